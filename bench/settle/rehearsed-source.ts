/**
 * The rehearsed bench as a hidden source of the settle benchmark: onset by the solved equilibrium of a drawn tip, regimes with
 * their memory, the bench's own signal. A reading is the mean and the scatter of ten scans. `SETUP` is a wider invented emitter than
 * the page's, so that the benchmark's box and start hold it.
 */
import { randomStream } from '../../src/core/random.ts';
import type { BenchRegime } from '../../src/rehearsal/index.ts';
import { DARK_LEVEL, type HiddenSource, hiddenSource, rehearsalSetup } from '../../src/rehearsal/index.ts';
import { BOX, type Source } from './source.ts';

const SETUP = { ...rehearsalSetup, emitter: { ...rehearsalSetup.emitter, bore_um: 50, rim_um: 90 } };
const SCANS = 10;
const STEADY: readonly BenchRegime[] = ['cone-jet', 'tilted jet'];

/** `ages`: the contact line grows by the truth's 0 to 0.3 % a minute, and the onset with its root. */
export function rehearsedSource(seed: number, ages = false): Omit<Source, 'kind'> {
  const hidden = solved(seed, ages);
  const noise = randomStream(seed, 'noise of rehearsed readings');
  let before: BenchRegime = 'no spray';
  const best = (minutes: number) => hidden.best(minutes, BOX).level;
  const unaged = best(0);
  return {
    onsetFactor: (t) => hidden.onset_V(3, t / 60) / hidden.onset_V(3, 0),
    steady: (at, t) => STEADY.includes(hidden.at(at, t / 60, before).regime),
    share: (at, t) => hidden.at(at, t / 60, before).level / (ages ? best(t / 60) : unaged),
    read: (at, t) => {
      const answer = hidden.at(at, t / 60, before);
      before = answer.regime;
      const scans = Array.from(
        { length: SCANS },
        () => answer.level * noise.factor(answer.scatter) + DARK_LEVEL * noise.between(0.5, 1.5),
      );
      const level = scans.reduce((sum, scan) => sum + scan, 0) / SCANS;
      const square = scans.reduce((sum, scan) => sum + (scan - level) ** 2, 0) / (SCANS - 1);
      return { level: 1e6 * level, scatter_percent: (100 * Math.sqrt(square)) / level };
    },
  };
}

/** The equilibria of a tip take about a second: each method meets the same one. */
const known = new Map<string, HiddenSource>();
function solved(seed: number, ages: boolean): HiddenSource {
  const key = `${seed} ${ages}`;
  const found = known.get(key) ?? hiddenSource({ seed, setup: SETUP, ages });
  known.set(key, found);
  return found;
}
