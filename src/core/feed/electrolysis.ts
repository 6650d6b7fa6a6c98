/**
 * Gas that the spray's own current makes at the electrode, against what the liquid can dissolve. Positive polarity:
 * 2 H2O → O2 + 4 H⁺ + 4 e⁻, c = I/(4 F Q); negative: 2 H2O + 2 e⁻ → H2 + 2 OH⁻, c = I/(2 F Q); acid or base made: I/(F Q).
 * Water's solubility at one atmosphere and 25 °C; organic mixtures dissolve more, other oxidations (metal, analyte) make
 * less: an upper bound. Dissolved air takes a fifth of the room of O2 already and is not counted.
 * Van Berkel and Zhou 1995, Anal. Chem. 67, 2916 (from memory). Worked numbers: 200 nA, 300 nL/min: O2 8 % of its
 * solubility; 100 nA, 20 nL/min: O2 60 %, in negative polarity H2 194 % (computed).
 */
export const FARADAY = 96485.33212; // [C/mol], CODATA 2018
/** [mol/m3] at 101.3 kPa of the gas (from memory, 2 %). */
const SOLUBILITY = { oxygen: 1.3, hydrogen: 0.8 };

export interface Electrolysis {
  gas: 'oxygen' | 'hydrogen';
  /** Added to the liquid [mol/m3]. */
  gas_mol_m3: number;
  /** Of what water dissolves at one atmosphere of the gas. */
  saturation: number;
  /** H⁺ (positive) or OH⁻ (negative) made [mol/m3]. */
  ions_mol_m3: number;
}

/** current [A], flow [m3/s]. */
export function electrolysis(current: number, flow: number, polarity: 'positive' | 'negative'): Electrolysis {
  const gas = polarity === 'positive' ? 'oxygen' : 'hydrogen';
  const gas_mol_m3 = current / ((gas === 'oxygen' ? 4 : 2) * FARADAY * flow);
  return {
    gas,
    gas_mol_m3,
    saturation: gas_mol_m3 / SOLUBILITY[gas],
    ions_mol_m3: current / (FARADAY * flow),
  };
}
