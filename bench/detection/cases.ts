/** The faults and the false friends of the study, each placed at random in a run. */
import { randomStream } from '../../src/core/random.ts';
import type { RunEventKind } from '../../src/evidence/index.ts';
import { bin, type Writing } from './faults.ts';

export interface Case {
  name: string;
  /** Time it takes; a run shorter than ten times this is not used. */
  length_s: number;
  /** Kinds of event that count as having seen it, anywhere in its time. */
  kinds: readonly RunEventKind[];
  friend: boolean;
  /** Needs fill times: invented ones are put into a run without, for this case and its untouched twin alike. */
  fills?: boolean;
  /** The invented run's intensities are ions of a scan, not a rate. */
  counts?: boolean;
  writing(start_s: number, seed: number, interval_s: number, length_s: number): Writing;
}

/** A ripple is placed by scans: its period is so many of the intervals where it stands, or of the run's usual one. */
export interface RippleCase extends Case {
  intervals: number;
  of: 'place' | 'run';
}

const ANY: readonly RunEventKind[] = [
  'sag',
  'dropout',
  'ripple',
  'flicker',
  'step',
  'drift',
  'level lost',
  'signal lost at the end',
];
const inside = (t: number, start_s: number, length_s: number): boolean =>
  t >= start_s && t < start_s + length_s;

function box(name: string, depth: number, length_s: number): Case {
  return {
    name,
    length_s,
    kinds: ANY,
    friend: false,
    writing: (start_s) => ({ factor: (t) => (inside(t, start_s, length_s) ? 1 - depth : 1) }),
  };
}

/** Lower from one moment to the end of the run. */
function step(name: string, depth: number): Case {
  return {
    ...box(name, depth, 0),
    writing: (start_s) => ({ factor: (t) => (t >= start_s ? 1 - depth : 1) }),
  };
}

function valley(name: string, depth: number, length_s: number): Case {
  return {
    ...box(name, depth, length_s),
    friend: true,
    writing: (start_s) => ({
      factor: (t, _mz, background) => (!background && inside(t, start_s, length_s) ? 1 - depth : 1),
    }),
  };
}

/** Scatter from scan to scan that is put on the whole run: the factor of the 16 min run, which scatters by 6.6 % itself, then scatters by 10 % (root mean square about a median of 41 scans). */
const ADDED_SCATTER = 0.075;

/** Each scan by its own factor, all peaks of it alike. */
function scatterOf(seed: number): (t: number) => number {
  const drawn = new Map<number, number>();
  const stream = randomStream(seed, 'added scatter');
  return (t) => {
    let value = drawn.get(t);
    if (value === undefined) {
      value = stream.factor(ADDED_SCATTER);
      drawn.set(t, value);
    }
    return value;
  };
}

/** The ripple in a run whose scans scatter more than its own. */
function inScatter(one: RippleCase): RippleCase {
  return {
    ...one,
    name: `${one.name}, scatter 10 %`,
    writing: (start_s, seed, interval_s, length_s) => {
      const { factor } = one.writing(start_s, seed, interval_s, length_s);
      const scatter = scatterOf(seed);
      return { factor: (t, mz, background) => factor(t, mz, background) * scatter(t) };
    },
  };
}

/** Twenty periods, at least 80 scans. */
function ripple(
  name: string,
  amplitude: number,
  intervals: number,
  of: RippleCase['of'] = 'place',
): RippleCase {
  return {
    name,
    intervals,
    of,
    length_s: 0,
    kinds: ANY,
    friend: false,
    writing: (start_s, seed, interval_s, length_s) => {
      const period_s = intervals * interval_s;
      const phase = randomStream(seed, 'phase').between(0, 2 * Math.PI);
      return {
        factor: (t) =>
          inside(t, start_s, length_s)
            ? 1 + amplitude * Math.sin(phase + (2 * Math.PI * (t - start_s)) / period_s)
            : 1,
      };
    },
  };
}

/** Scans of twenty periods of `intervals` scans, at least 80. */
export function rippleScans(intervals: number): number {
  return Math.max(Math.ceil(20 * intervals), 80);
}

export function isRipple(one: Case): one is RippleCase {
  return 'intervals' in one;
}

function flicker(name: string, depth: number, length_s: number): Case {
  return {
    name,
    length_s,
    kinds: ANY,
    friend: false,
    writing: (start_s, seed) => {
      // On and off, 2 s each on average.
      const stream = randomStream(seed, 'flicker');
      const edges: number[] = [];
      for (let t = 0; t < length_s; ) {
        t += -2 * Math.log(1 - stream.unit());
        edges.push(t);
      }
      return {
        factor: (t) => {
          if (!inside(t, start_s, length_s)) return 1;
          let low = false;
          for (const edge of edges) {
            if (edge > t - start_s) break;
            low = !low;
          }
          return low ? 1 - depth : 1;
        },
      };
    },
  };
}

/** A drop leaves: lower for a fifth of the period, sharp edges. */
function drips(name: string, depth: number, period_s: number, length_s: number): Case {
  return {
    name,
    length_s,
    kinds: ANY,
    friend: false,
    writing: (start_s) => ({
      factor: (t) => (inside(t, start_s, length_s) && ((t - start_s) / period_s) % 1 < 0.2 ? 1 - depth : 1),
    }),
  };
}

/** Each fill by its own factor for 60 s. Where the file holds counts, every peak follows its scan's fill. */
function jitter(name: string, counts: boolean): Case {
  return {
    ...box(name, 0, 60),
    friend: true,
    fills: true,
    counts,
    writing: (start_s) => ({
      factor: () => 1,
      fill: (t, stream) => (inside(t, start_s, 60) ? stream.factor(0.3) : 1),
      counts,
    }),
  };
}

export const CASES: readonly Case[] = [
  box('sag 20 % 10 s', 0.2, 10),
  box('sag 30 % 10 s', 0.3, 10),
  box('sag 30 % 20 s', 0.3, 20),
  box('sag 30 % 60 s', 0.3, 60),
  box('sag 60 % 10 s', 0.6, 10),
  box('sag 60 % 60 s', 0.6, 60),
  box('dropout 95 % 1 s', 0.95, 1),
  box('dropout 95 % 3 s', 0.95, 3),
  box('dropout 95 % 10 s', 0.95, 10),
  box('dropout 95 % 60 s', 0.95, 60),
  drips('drips 40 % every 8 s for 90 s', 0.4, 8, 90),
  ripple('ripple 5 %, 6 intervals', 0.05, 6),
  ripple('ripple 10 %, 4 intervals', 0.1, 4),
  ripple('ripple 10 %, 4 usual intervals', 0.1, 4, 'run'),
  ripple('ripple 10 %, 7.3 intervals', 0.1, 7.3),
  ripple('ripple 10 %, folded 0.37', 0.1, 0.37),
  ripple('ripple 10 %, folded 0.61', 0.1, 0.61),
  ripple('ripple 10 %, folded 0.37 of the usual', 0.1, 0.37, 'run'),
  inScatter(ripple('ripple 10 %, 4 intervals', 0.1, 4)),
  inScatter(ripple('ripple 10 %, 7.3 intervals', 0.1, 7.3)),
  inScatter(ripple('ripple 10 %, folded 0.37', 0.1, 0.37)),
  flicker('flicker 10 % 60 s', 0.1, 60),
  flicker('flicker 25 % 60 s', 0.25, 60),
  flicker('flicker 50 % 60 s', 0.5, 60),
  {
    ...box('growing scatter, last third, to 25 %', 0, 0),
    writing: (start_s, seed) => {
      const stream = randomStream(seed, 'scatter');
      const drawn = new Map<number, number>();
      return {
        factor: (t) => {
          if (t < start_s) return 1;
          let value = drawn.get(t);
          if (value === undefined) {
            value = stream.factor(Math.min(0.25, ((t - start_s) / 300) * 0.25));
            drawn.set(t, value);
          }
          return value;
        },
      };
    },
  },
  {
    ...box('slow clog, -60 % over the last half', 0, 0),
    writing: (start_s) => ({ factor: (t) => (t < start_s ? 1 : Math.exp((-0.9 * (t - start_s)) / 450)) }),
  },
  step('step -30 %', 0.3),
  step('step -50 %', 0.5),
  valley('friend: valley 30 % 10 s', 0.3, 10),
  valley('friend: valley 60 % 10 s', 0.6, 10),
  valley('friend: valley 60 % 60 s', 0.6, 60),
  {
    ...box('friend: column bleed', 0, 60),
    friend: true,
    writing: (start_s, seed) => ({
      factor: (t, mz, background) =>
        background && (bin(mz) * 7919 + seed) % 8 === 0 && t > start_s
          ? 1 + 4 * (1 - Math.exp((start_s - t) / 60))
          : 1,
    }),
  },
  {
    ...box('friend: composition change 60 s', 0, 60),
    friend: true,
    writing: (start_s, seed) => {
      const own = new Map<number, number>();
      const change = (mz: number): number => {
        const ion = Math.round(mz * 20);
        const known = own.get(ion);
        if (known !== undefined) return known;
        const drawn = 0.5 * randomStream(seed, `ion ${ion}`).normal() - 0.1;
        own.set(ion, drawn);
        return drawn;
      };
      return {
        factor: (t, mz) => {
          const rise = Math.min(1, Math.max(0, (t - start_s) / 5));
          const fall = Math.min(1, Math.max(0, (start_s + 60 - t) / 5));
          const share = Math.min(rise, fall);
          if (share === 0) return 1;
          return Math.exp(share * change(mz));
        },
      };
    },
  },
  jitter('friend: fill-control jitter 30 %, the level a rate', false),
  jitter('friend: fill-control jitter 30 %, the level counts', true),
  {
    ...box('friend: another scan mode 60 s', 0, 60),
    friend: true,
    writing: (start_s) => ({
      factor: (t) => (inside(t, start_s, 60) ? 0.5 : 1),
      analyser: (t) => (inside(t, start_s, 60) ? 1 : undefined),
    }),
  },
];
