/** A run held against good runs of the same method. JSON-ready: null where a value is absent, never NaN. */
import type { RunEvent } from '../run-reading.ts';

/** What the ratio rests on: ions that stand in both runs throughout, ions that pass in both, or the level alone. */
export type AgainstFrom = 'standing ions' | 'passing ions' | 'level';

export interface AgainstReference {
  name: string;
  /** Why this run was not used; absent where it was. */
  refused?: string;
  /** How the run times lie to each other: time of the reference = time of this run + shift, changing along the run. */
  alignment?: AgainstAlignment;
  from?: AgainstFrom;
  /** Ions that carry the ratio. */
  ions?: number;
  /** Middle ratio to this reference. */
  ratio?: number;
}

export interface AgainstAlignment {
  /** 'passing ions', 'level', or 'nothing': then the run times are taken as they are. */
  from: 'passing ions' | 'level' | 'nothing';
  /** Middle shift [s] and the stretch along the run (1: none). */
  shift_s: number;
  stretch: number;
  /** Shift at some times of this run, straight in between. */
  points: { time_s: number; shift_s: number }[];
}

export interface AgainstReading {
  group: number;
  references: AgainstReference[];
  /** Undefined where no reference could be used. */
  from?: AgainstFrom;
  /** Usual ratio of this run to the references, before what lasts set in, with its 95 % range. */
  ratio?: { value: number; low: number; high: number };
  /** Eluting ions against standing ones: the sample's own ratio; absent where they cannot be told apart. */
  load?: { value: number; low: number; high: number; ions: number };
  /** ln of the ratio over its usual one, in steps of the run time, with its standard error. */
  series?: { time_s: number[]; log: (number | null)[]; error: (number | null)[] };
  /** What the ratio wanders by from minute to minute, as a log. */
  wander?: number;
  /** Smallest lasting change that would have been told, as a lost share. */
  least_step?: number;
  events: RunEvent[];
  sentences: string[];
  /** What this comparison cannot decide, each with the cheapest measurement that would. */
  undecided: string[];
}
