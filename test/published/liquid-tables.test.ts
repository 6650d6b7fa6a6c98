/**
 * Regression against the worked tables of the liquids reference (computed there by the same models): they catch a slip
 * in the implementation, not wrong physics. Tables are rounded, so half the last printed digit is allowed on top.
 */
import { describe, expect, it } from 'vitest';
import {
  acidPKa,
  dissociate,
  ionConductivity,
  massFraction,
  mixtureConductivity,
  mixtureDensity,
  mixturePermittivity,
  mixtureSurfaceTension,
  mixtureViscosity,
  moleFraction,
} from '../../src/core/liquid/index.ts';

/** Two implementations of one formula. */
const PROPERTY_RELATIVE = 1e-3;
const CONDUCTIVITY_RELATIVE = 0.02;
/** The tables count no stray salt. */
const NO_STRAY = 0;

const C = (t: number) => t + 273.15;

/** φ, x, w, then density, viscosity, surface tension, permittivity at 25, 15 and 40 °C. */
const PROPERTIES: Record<'acetonitrile' | 'methanol' | '2-propanol', number[][]> = {
  acetonitrile: [
    [0.0, 0.0, 0.0, 997.0, 0.89, 72.0, 78.4, 999.1, 1.138, 73.5, 82.1, 992.2, 0.653, 69.6, 73.2],
    [0.02, 0.007, 0.0157, 994.3, 0.909, 65.7, 77.6, 996.5, 1.164, 67.2, 81.2, 989.1, 0.665, 63.4, 72.4],
    [0.05, 0.0178, 0.0396, 990.0, 0.934, 58.5, 76.3, 992.6, 1.199, 60.0, 79.9, 984.3, 0.681, 56.3, 71.2],
    [0.1, 0.0368, 0.0801, 982.4, 0.965, 50.4, 74.1, 985.6, 1.242, 51.8, 77.7, 976.0, 0.7, 48.3, 69.2],
    [0.2, 0.0791, 0.1638, 965.8, 0.988, 41.2, 69.9, 970.2, 1.273, 42.5, 73.3, 957.9, 0.712, 39.1, 65.2],
    [0.3, 0.1284, 0.2513, 947.3, 0.962, 36.1, 65.6, 952.7, 1.236, 37.4, 68.8, 938.0, 0.694, 34.1, 61.2],
    [0.4, 0.1865, 0.3431, 926.9, 0.899, 32.9, 61.3, 933.2, 1.146, 34.2, 64.4, 916.2, 0.654, 31.0, 57.2],
    [0.5, 0.2558, 0.4393, 904.5, 0.811, 30.9, 57.0, 911.8, 1.022, 32.2, 60.0, 892.6, 0.599, 29.0, 53.2],
    [0.6, 0.3402, 0.5402, 880.4, 0.712, 29.6, 52.8, 888.6, 0.881, 30.8, 55.6, 867.5, 0.536, 27.6, 49.2],
    [0.7, 0.4451, 0.6464, 855.1, 0.61, 28.7, 48.5, 864.0, 0.739, 30.0, 51.2, 841.2, 0.472, 26.8, 45.2],
    [0.8, 0.579, 0.7581, 829.2, 0.513, 28.3, 44.2, 838.8, 0.605, 29.6, 46.8, 814.4, 0.41, 26.4, 41.2],
    [0.9, 0.7557, 0.8758, 803.3, 0.424, 28.2, 40.0, 813.5, 0.484, 29.5, 42.4, 787.8, 0.353, 26.3, 37.1],
    [1.0, 1.0, 1.0, 776.6, 0.345, 28.7, 35.7, 787.3, 0.38, 29.9, 37.9, 760.5, 0.301, 26.8, 33.1],
  ],
  methanol: [
    [0.0, 0.0, 0.0, 997.0, 0.89, 72.0, 78.4, 999.1, 1.138, 73.5, 82.1, 992.2, 0.653, 69.6, 73.2],
    [0.02, 0.009, 0.0159, 994.2, 0.945, 68.9, 77.7, 996.5, 1.213, 70.4, 81.4, 989.1, 0.689, 66.6, 72.6],
    [0.05, 0.0229, 0.04, 990.1, 1.027, 64.8, 76.7, 992.6, 1.324, 66.2, 80.3, 984.6, 0.743, 62.6, 71.6],
    [0.1, 0.0472, 0.0809, 983.2, 1.155, 59.0, 74.9, 986.3, 1.501, 60.3, 78.5, 977.1, 0.826, 56.9, 70.0],
    [0.2, 0.1002, 0.1654, 969.8, 1.375, 50.1, 71.3, 973.7, 1.805, 51.3, 74.6, 962.4, 0.966, 48.2, 66.6],
    [0.3, 0.1603, 0.2535, 955.9, 1.529, 43.6, 67.5, 960.8, 2.017, 44.7, 70.6, 947.2, 1.064, 41.9, 63.1],
    [0.4, 0.229, 0.3457, 940.7, 1.607, 38.6, 63.4, 946.5, 2.118, 39.7, 66.4, 930.9, 1.116, 37.0, 59.3],
    [0.5, 0.3082, 0.4421, 923.4, 1.605, 34.7, 59.1, 930.1, 2.102, 35.7, 61.9, 912.5, 1.122, 33.2, 55.3],
    [0.6, 0.4006, 0.5431, 903.1, 1.521, 31.5, 54.5, 910.6, 1.967, 32.4, 57.1, 891.2, 1.078, 30.0, 51.0],
    [0.7, 0.5097, 0.649, 879.4, 1.354, 28.7, 49.6, 887.6, 1.72, 29.6, 52.0, 866.6, 0.982, 27.4, 46.4],
    [0.8, 0.6406, 0.7602, 852.3, 1.116, 26.4, 44.4, 861.0, 1.384, 27.2, 46.5, 838.9, 0.834, 25.0, 41.5],
    [0.9, 0.8004, 0.877, 822.0, 0.832, 24.3, 38.7, 831.2, 1.001, 25.1, 40.6, 808.1, 0.645, 23.0, 36.3],
    [1.0, 1.0, 1.0, 786.3, 0.544, 22.3, 32.6, 795.7, 0.632, 23.1, 34.3, 772.3, 0.442, 21.1, 30.5],
  ],
  '2-propanol': [
    [0.0, 0.0, 0.0, 997.0, 0.89, 72.0, 78.4, 999.1, 1.138, 73.5, 82.1, 992.2, 0.653, 69.6, 73.2],
    [0.02, 0.0048, 0.0158, 994.7, 0.953, 61.3, 77.2, 997.0, 1.247, 62.7, 80.9, 989.6, 0.677, 59.2, 72.1],
    [0.05, 0.0123, 0.0398, 991.0, 1.062, 51.4, 75.5, 993.6, 1.432, 52.6, 79.0, 985.5, 0.721, 49.5, 70.4],
    [0.1, 0.0256, 0.0804, 984.6, 1.276, 42.0, 72.5, 987.7, 1.795, 43.1, 76.0, 978.4, 0.817, 40.3, 67.6],
    [0.2, 0.0557, 0.1644, 970.4, 1.808, 33.2, 66.6, 974.6, 2.675, 34.1, 69.8, 962.8, 1.077, 31.7, 62.0],
    [0.3, 0.0919, 0.2523, 954.3, 2.38, 29.0, 60.7, 959.4, 3.576, 29.9, 63.7, 945.4, 1.384, 27.6, 56.3],
    [0.4, 0.1359, 0.3442, 936.0, 2.832, 26.5, 54.7, 942.0, 4.208, 27.4, 57.6, 925.8, 1.668, 25.2, 50.7],
    [0.5, 0.1909, 0.4405, 915.4, 3.038, 24.9, 48.8, 922.3, 4.39, 25.7, 51.5, 904.1, 1.854, 23.6, 45.1],
    [0.6, 0.2614, 0.5415, 892.5, 2.988, 23.7, 42.9, 900.2, 4.168, 24.5, 45.4, 880.2, 1.909, 22.5, 39.5],
    [0.7, 0.3551, 0.6475, 867.5, 2.769, 22.8, 37.0, 875.9, 3.736, 23.7, 39.3, 854.4, 1.847, 21.6, 33.8],
    [0.8, 0.4856, 0.759, 840.8, 2.494, 22.2, 31.1, 849.8, 3.292, 23.0, 33.1, 826.9, 1.71, 21.0, 28.2],
    [0.9, 0.6799, 0.8763, 812.6, 2.243, 21.6, 25.2, 822.1, 2.959, 22.4, 27.0, 798.1, 1.535, 20.4, 22.6],
    [1.0, 1.0, 1.0, 780.9, 2.048, 21.1, 19.3, 790.8, 2.782, 21.9, 20.9, 766.1, 1.342, 19.9, 17.0],
  ],
};

/** Half the last printed digit of density, viscosity, surface tension, permittivity. */
const PROPERTY_HALF_DIGIT = [0.05, 0.0005, 0.05, 0.05];
const FRACTION_HALF_DIGIT = 0.00005;

/** φ, pKa of formic acid, λ(H+), λ(formate) [1e-4 S m2/mol], [H+] [mol/L], κ [S/m] of 0.1 % formic, 10 mM ammonium acetate, 0.1 % trifluoroacetic acid; 25 °C. */
const CONDUCTIVITIES: Record<'acetonitrile' | 'methanol', number[][]> = {
  acetonitrile: [
    [0.0, 3.75, 350.0, 54.6, 0.00218, 0.0868, 0.1066, 0.492],
    [0.02, 3.79, 339.0, 52.9, 0.0021, 0.0809, 0.1032, 0.477],
    [0.05, 3.84, 324.0, 50.7, 0.00197, 0.0727, 0.0987, 0.455],
    [0.1, 3.94, 300.0, 47.8, 0.00177, 0.0604, 0.0928, 0.422],
    [0.2, 4.16, 257.0, 44.3, 0.00138, 0.0409, 0.0854, 0.363],
    [0.3, 4.42, 220.0, 42.9, 0.00103, 0.0266, 0.0821, 0.312],
    [0.4, 4.72, 187.0, 43.3, 0.000731, 0.0165, 0.082, 0.269],
    [0.5, 5.08, 158.0, 44.9, 0.000483, 0.00965, 0.0842, 0.232],
    [0.6, 5.52, 134.0, 47.8, 0.000291, 0.00522, 0.0884, 0.202],
    [0.7, 6.07, 115.0, 51.8, 0.000155, 0.00255, 0.0942, 0.178],
    [0.8, 6.76, 101.0, 56.9, 6.91e-5, 0.00108, 0.1014, 0.161],
    [0.9, 7.68, 94.0, 63.1, 2.38e-5, 0.000371, 0.1097, 0.151],
  ],
  methanol: [
    [0.0, 3.75, 350.0, 54.6, 0.00218, 0.0868, 0.1066, 0.492],
    [0.02, 3.77, 339.0, 50.8, 0.00213, 0.0817, 0.0992, 0.475],
    [0.05, 3.81, 324.0, 46.0, 0.00205, 0.0746, 0.0896, 0.452],
    [0.1, 3.87, 302.0, 39.7, 0.00191, 0.0643, 0.0772, 0.418],
    [0.2, 4.01, 263.0, 31.5, 0.00165, 0.0478, 0.0607, 0.361],
    [0.3, 4.16, 229.0, 26.5, 0.00139, 0.0349, 0.0508, 0.312],
    [0.4, 4.34, 197.0, 23.6, 0.00114, 0.0248, 0.0447, 0.268],
    [0.5, 4.54, 168.0, 22.0, 0.000907, 0.0169, 0.0411, 0.228],
    [0.6, 4.77, 139.0, 21.4, 0.000694, 0.011, 0.0396, 0.19],
    [0.7, 5.05, 113.0, 22.1, 0.000505, 0.00668, 0.04, 0.155],
    [0.8, 5.39, 88.0, 24.4, 0.000345, 0.0038, 0.0431, 0.124],
    [0.9, 5.79, 67.0, 29.5, 0.000216, 0.00204, 0.0504, 0.098],
  ],
};

describe.each(Object.entries(PROPERTIES) as ['acetonitrile', number[][]][])(
  '%s and water',
  (organic, rows) => {
    it('has the whole table', () => expect(rows).toHaveLength(13));
    it.each(rows)('φ = %f', (...row) => {
      const [fraction = Number.NaN, x = Number.NaN, w = Number.NaN, ...values] = row;
      expect(Math.abs(moleFraction(organic, fraction) - x)).toBeLessThan(
        PROPERTY_RELATIVE * x + 1.02 * FRACTION_HALF_DIGIT,
      );
      expect(Math.abs(massFraction(organic, fraction) - w)).toBeLessThan(
        PROPERTY_RELATIVE * w + 1.02 * FRACTION_HALF_DIGIT,
      );
      expect(values).toHaveLength(12);
      [25, 15, 40].forEach((t, block) => {
        const found = [
          mixtureDensity(organic, fraction, C(t)),
          mixtureViscosity(organic, fraction, C(t)) * 1e3,
          mixtureSurfaceTension(organic, fraction, C(t)) * 1e3,
          mixturePermittivity(organic, fraction, C(t)),
        ];
        found.forEach((value, i) => {
          const expected = values[4 * block + i]!;
          expect(Math.abs(value - expected)).toBeLessThan(
            PROPERTY_RELATIVE * expected + PROPERTY_HALF_DIGIT[i]!,
          );
        });
      });
    });
  },
);

describe.each(Object.entries(CONDUCTIVITIES) as ['acetonitrile', number[][]][])(
  'conductivity, %s and water',
  (organic, rows) => {
    it('has the whole table', () => expect(rows).toHaveLength(12));
    it.each(rows)('φ = %f', (...row) => {
      const [fraction = Number.NaN, pKa, lambdaH, lambdaFormate, hydrogen, formic, acetate, trifluoro] = row;
      const medium = { organic, fraction, temperature_K: C(25) };
      const near = (value: number, expected: number | undefined) =>
        expect(Math.abs(value / expected! - 1)).toBeLessThan(CONDUCTIVITY_RELATIVE);
      near(acidPKa('formic acid', medium), pKa);
      near(ionConductivity('H+', organic, fraction, C(25)) * 1e4, lambdaH);
      near(ionConductivity('formate', organic, fraction, C(25)) * 1e4, lambdaFormate);
      near(dissociate(26.5, acidPKa('formic acid', medium), medium).hydrogen_mol_m3 / 1000, hydrogen);
      near(
        mixtureConductivity({ name: 'formic acid', concentration_mol_m3: 26.5 }, medium, NO_STRAY),
        formic,
      );
      near(
        mixtureConductivity({ name: 'ammonium acetate', concentration_mol_m3: 10 }, medium, NO_STRAY),
        acetate,
      );
      near(
        mixtureConductivity({ name: 'trifluoroacetic acid', concentration_mol_m3: 13.07 }, medium, NO_STRAY),
        trifluoro,
      );
    });
  },
);

describe('worked lines', () => {
  it.each([
    ['formic acid', 265, 0, 25, 0.29],
    ['formic acid', 265, 0.5, 25, 0.031],
    ['formic acid', 26.5, 0.3, 15, 0.0226],
    ['formic acid', 26.5, 0.3, 40, 0.033],
    ['formic acid', 26.5, 0, 15, 0.0741],
    ['formic acid', 26.5, 0, 40, 0.1062],
    ['acetic acid', 17.5, 0, 25, 0.0217],
    ['ammonium acetate', 1, 0, 25, 0.0112],
    ['ammonium acetate', 100, 0, 25, 0.94],
    ['ammonium formate', 10, 0, 25, 0.12],
    ['ammonium bicarbonate', 10, 0, 25, 0.11],
  ] as const)('%s %f mM, φ = %f, %f °C', (name, c, fraction, t, expected) => {
    const medium = { organic: 'acetonitrile', fraction, temperature_K: C(t) } as const;
    const value = mixtureConductivity({ name, concentration_mol_m3: c }, medium, NO_STRAY);
    expect(Math.abs(value / expected - 1)).toBeLessThan(CONDUCTIVITY_RELATIVE);
  });
});
