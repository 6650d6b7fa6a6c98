/** The blind rounds of this visit. Nothing is stored: they go with the page. */
import type { NamedAnswer } from '../../rehearsal/index.ts';

export interface Round {
  seed: number;
  kind: NamedAnswer['kind'];
  /** Undefined where there was no working point to find. */
  share: number | undefined;
  readings: number;
}

const rounds: Round[] = [];

export function keepRound(round: Round): void {
  rounds.push(round);
}

/** One sentence over all rounds; undefined before the second. */
export function roundsWords(all: readonly Round[] = rounds): string | undefined {
  if (all.length < 2) return undefined;
  const right = all.filter(({ kind }) => kind === 'right' || kind === 'alike').length;
  const shares = all.flatMap(({ share }) => (share === undefined ? [] : [share])).sort((a, b) => a - b);
  const readings = all.map((round) => round.readings).sort((a, b) => a - b);
  const middle = (values: readonly number[]) =>
    values.length % 2 === 1
      ? values[values.length >> 1]!
      : (values[values.length / 2 - 1]! + values[values.length / 2]!) / 2;
  const signal =
    shares.length === 0 ? '' : ` Middle share of the best signal: ${Math.round(100 * middle(shares))} %.`;
  return `${all.length} rounds in this visit: the fault named rightly in ${right}.${signal} Middle count of readings: ${middle(readings)}.`;
}
