/**
 * Why a session was begun and what proves its end: figures of a run or a trace before and after. Which of two levels is better
 * is only said for readings of one method on one instrument; the thresholds are judgement.
 */
import { FAULTS } from '../causes/index.ts';

/** Level, scatter and grade of one run or current trace. */
export interface ReadFigures {
  /** File name without folders. */
  file: string;
  /** The reading on the bench, where it is kept. */
  reading_id?: string | undefined;
  /** What the level is: 'run' intensities, or the mean 'current' in nA. */
  from: 'run' | 'current';
  level: number;
  scatter_percent?: number | undefined;
  /** Verdict of the run, or the regime of the trace. */
  grade: string;
  /** How steady the spray was, in one word. */
  spray: string;
  invented?: boolean | undefined;
}

/** The cause that led to the session, and the reading that showed it. */
export interface SettleReason {
  /** Id in the fault catalogue. */
  cause: string;
  /** Belief in it at that moment, 0..1. */
  probability?: number | undefined;
  before?: ReadFigures | undefined;
}

/** A reading at the working point, beside the one that began it all. */
export interface SettleProof {
  after: ReadFigures;
  /** ISO 8601, UTC. */
  when: string;
}

export type ProofOutcome = 'better' | 'not better' | 'cannot tell';

/** Less is within what two runs of one spray differ by. Judgement. */
const LEVEL_SHARE = 0.15;
/** Scatter must fall by this share, and by a percent at least. Judgement. */
const SCATTER_SHARE = 0.2;
const SCATTER_LEAST_PERCENT = 1;
const GRADES = ['repeat', 'keep these minutes', 'keep'];
const STEADY = ['failing', 'unsettled', 'steady'];

function causeName(id: string): string {
  return FAULTS.find((fault) => fault.id === id)?.name ?? id;
}

function figuresWords({ file, reading_id, from, level, scatter_percent, grade, spray }: ReadFigures): string {
  const kept = reading_id === undefined ? '' : ` (${reading_id})`;
  const unit = from === 'current' ? ' nA' : '';
  return `${file}${kept}: level ${short(level)}${unit}, scatter ${scatterWords(scatter_percent)}, grade ${grade}, spray ${spray}`;
}

export function reasonWords({ cause, probability, before }: SettleReason): string {
  const sure = probability === undefined ? '' : `, ${Math.round(100 * probability)} %`;
  const seen = before === undefined ? '' : ` It was seen in ${figuresWords(before)}.`;
  return `Begun because of: ${causeName(cause)}${sure}.${seen}`;
}

export function proofOutcome(before: ReadFigures | undefined, { after }: SettleProof): ProofOutcome {
  if (before === undefined || before.from !== after.from) return 'cannot tell';
  if (after.grade === 'cannot tell' || before.grade === 'cannot tell') return 'cannot tell';
  const ranks = [rankMove(GRADES, before.grade, after.grade), rankMove(STEADY, before.spray, after.spray)];
  const level = levelMove(before.level, after.level);
  // A lost spray is calm: where the grades differ they speak, and the scatter does not.
  const same = ranks.every((move) => move === 0);
  const moves = [
    ...ranks,
    level,
    ...(same ? [scatterMove(before.scatter_percent, after.scatter_percent)] : []),
  ];
  if (moves.includes(-1)) return 'not better';
  return moves.includes(1) ? 'better' : 'not better';
}

export function proofWords(before: ReadFigures | undefined, proof: SettleProof): string {
  const { after } = proof;
  if (before === undefined)
    return `Read at the working point, ${figuresWords(after)}. No reading from before: nothing to compare with.`;
  if (before.from !== after.from)
    return `Before, ${figuresWords(before)}. After, ${figuresWords(after)}. A run and a current cannot be compared.`;
  const factor = before.level > 0 ? ` (times ${short(after.level / before.level)})` : '';
  const unit = after.from === 'current' ? ' nA' : '';
  const said: Record<ProofOutcome, string> = {
    better: 'Better: this reading speaks for the working point.',
    'not better': 'Not better in every respect: do not take the cause as mended; look again.',
    'cannot tell': 'This cannot tell: read a longer run of the same method.',
  };
  return `Before -> after: level ${short(before.level)} -> ${short(after.level)}${unit}${factor}; scatter ${scatterWords(before.scatter_percent)} -> ${scatterWords(after.scatter_percent)}; grade ${before.grade} -> ${after.grade}; spray ${before.spray} -> ${after.spray} (${before.file} -> ${after.file}${after.reading_id === undefined ? '' : `, ${after.reading_id}`}). ${said[proofOutcome(before, proof)]} Holds for two readings of one method on one instrument.`;
}

function rankMove(order: readonly string[], before: string, after: string): number {
  const [from, to] = [order.indexOf(before), order.indexOf(after)];
  return from < 0 || to < 0 ? 0 : Math.sign(to - from);
}

function levelMove(before: number, after: number): number {
  if (!(before > 0)) return after > 0 ? 1 : 0;
  const ratio = after / before;
  return ratio > 1 + LEVEL_SHARE ? 1 : ratio < 1 / (1 + LEVEL_SHARE) ? -1 : 0;
}

function scatterMove(before: number | undefined, after: number | undefined): number {
  if (before === undefined || after === undefined) return 0;
  const least = Math.max(SCATTER_LEAST_PERCENT, SCATTER_SHARE * Math.max(before, after));
  return Math.abs(after - before) < least ? 0 : Math.sign(before - after);
}

function scatterWords(percent: number | undefined): string {
  return percent === undefined ? 'not known' : `${short(percent)} %`;
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}
