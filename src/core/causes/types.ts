/**
 * The words of the catalogue: what can be observed, what a fault does to it, and what a person does about it. A fault is
 * data; `rankCauses` reasons over whatever faults and observables it is given.
 */

/** One question with a few answers that a person, a reading or a history can give. */
export interface Observable {
  id: string;
  /** One measurement answers a whole group (one look at a current trace): such answers are not independent. */
  group: ObservableGroup;
  /** As a person would ask it at the bench. */
  question: string;
  outcomes: readonly Outcome[];
  /** Of two outcomes, the one that 'yes' to the question means. */
  yes?: string;
  /** How often each outcome is met when a fault does not touch this observable; same order as `outcomes`, adds to 1. Judgement. */
  untouched: readonly number[];
  /** Minutes to get the answer. Judgement. */
  minutes: number;
  /** What has to be safe before a hand or a knob moves. */
  gate: SafetyGate;
  /** What to do to get the answer, one sentence. */
  how: string;
}

export interface Outcome {
  id: string;
  words: string;
}

export const OBSERVABLE_GROUPS = [
  'run level',
  'run events',
  'peaks',
  'ions',
  'current',
  'pressure',
  'microscope',
  'timing',
  'history',
  'trial',
  'plan',
] as const;
export type ObservableGroup = (typeof OBSERVABLE_GROUPS)[number];
/** Kinds whose questions are each a measurement of its own: one trial says nothing about whether the next was done right. */
export const SEPARATE_GROUPS: readonly ObservableGroup[] = ['history', 'trial', 'plan'];

/**
 * none: only eyes and files. knob: a setting is turned, nothing is touched; lowering is always allowed. raise: a voltage,
 * flow or pressure goes up, which a person must confirm. hands off power: high voltage off, read back 0 V, wait, ground,
 * before a hand goes near. pressure off: besides that, the line is below 5 bar before a fitting is opened.
 */
export const SAFETY_GATES = ['none', 'knob', 'raise', 'hands off power', 'pressure off'] as const;
export type SafetyGate = (typeof SAFETY_GATES)[number];

export interface Fault {
  id: string;
  name: string;
  family: FaultFamily;
  /** Relative frequency in daily work; judgement, replaced by a bench's own history. */
  prior: number;
  /** Its cure is a voltage or a position, which a settle session finds. */
  settle?: true;
  /** Outcome id → relative weight, for every observable this fault changes. Outcomes left out share `UNSAID_SHARE`. */
  signs: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** Faults it is taken for, each with the observable that separates the two. */
  lookAlikes: readonly { fault: string; separatedBy: string; words: string }[];
  /** First, second, third. */
  actions: readonly Action[];
  /** Typical numbers in a sentence. */
  numbers: string;
  /** Author, year, journal … with its tag, or 'common practice, no source'. */
  sources: readonly string[];
}

export type FaultFamily =
  | 'liquid supply'
  | 'tip'
  | 'voltage and electrics'
  | 'position, gas, inlet'
  | 'liquid composition'
  | 'inside the instrument';

export interface Action {
  gate: SafetyGate;
  words: string;
}

/** What was seen: a certain outcome, or a belief over outcomes. `cannot see` is left out of the list. */
export interface Observation {
  observable: string;
  outcome: string | Readonly<Record<string, number>>;
  /** Where it comes from, for example 'run-12', 'asked', 'plan'. */
  from: string;
}
