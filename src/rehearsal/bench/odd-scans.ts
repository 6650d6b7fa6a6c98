/** Single scans that are wrong: wet droplets while the tip points at the inlet, misfires of the filling. */
import type { RandomStream } from '../../core/random.ts';
import type { FaultEffects } from './fault-effects.ts';

/** Off the axis by this much [mm], so many fewer wet droplets are caught. Judgement. */
const AXIS_MM = 0.5;

/** The factor of one scan. */
export function oddScans(random: RandomStream) {
  return ({ share, low, high, onAxis }: FaultEffects['oddScans'], offset_mm: number): number => {
    if (share === 0) return 1;
    const caught = onAxis ? Math.exp(-0.5 * (offset_mm / AXIS_MM) ** 2) : 1;
    if (random.unit() >= share * caught) return 1;
    return Math.exp(random.between(Math.log(low), Math.log(high)));
  };
}
