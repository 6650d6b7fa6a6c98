/** The set-up at each line of its gradient table: same emitter, flow and additive, the organic share by linear mixing. */
import type { Setup } from '../setup.ts';

export interface GradientSetup {
  time_min: number;
  organic_percent: number;
  setup: Setup;
}

export function gradientSetups(setup: Setup): GradientSetup[] {
  const { gradient, ...rest } = setup;
  if (gradient === undefined) return [];
  const { bottle_A_organic_percent: a, bottle_B_organic_percent: b } = gradient;
  return gradient.table.map(({ time_min, percent_B }) => {
    const organic_percent = a + ((b - a) * percent_B) / 100;
    // A value measured at one composition says nothing of another: the model takes over along the gradient.
    const { conductivity_S_m: _conductivity, surface_tension_mN_m: _tension, ...liquid } = rest.liquid;
    return {
      time_min,
      organic_percent,
      setup: {
        ...rest,
        liquid: {
          ...liquid,
          acetonitrile_percent: gradient.organic === 'acetonitrile' ? organic_percent : 0,
          methanol_percent: gradient.organic === 'methanol' ? organic_percent : 0,
          propanol_2_percent: gradient.organic === '2-propanol' ? organic_percent : 0,
        },
      },
    };
  });
}
