/** The set-up at each line of its gradient table: same emitter, flow and additive, the organic share by linear mixing. */
import type { GradientSpec, Setup } from '../setup.ts';

export interface GradientSetup {
  time_min: number;
  organic_percent: number;
  setup: Setup;
}

export function gradientSetups(setup: Setup): GradientSetup[] {
  const { gradient } = setup;
  if (gradient === undefined) return [];
  const { bottle_A_organic_percent: a, bottle_B_organic_percent: b } = gradient;
  return gradient.table.map(({ time_min, percent_B }) => {
    const organic_percent = a + ((b - a) * percent_B) / 100;
    return { time_min, organic_percent, setup: setupAtOrganic(setup, gradient, organic_percent) };
  });
}

/** The set-up with the gradient's organic solvent at one share, without its gradient. */
export function setupAtOrganic(setup: Setup, gradient: GradientSpec, organic_percent: number): Setup {
  const { gradient: _gradient, ...rest } = setup;
  // A value measured at one composition says nothing of another: the model takes over along the gradient.
  const { conductivity_S_m: _conductivity, surface_tension_mN_m: _tension, ...liquid } = rest.liquid;
  // An additive without data keeps its share; the organic solvent cannot take its place.
  const room = 100 - (liquid.other_additives ?? []).reduce((sum, { percent }) => sum + (percent ?? 0), 0);
  const share = (organic: GradientSpec['organic']) =>
    gradient.organic === organic ? Math.min(organic_percent, room) : 0;
  return {
    ...rest,
    liquid: {
      ...liquid,
      acetonitrile_percent: share('acetonitrile'),
      methanol_percent: share('methanol'),
      propanol_2_percent: share('2-propanol'),
    },
  };
}
