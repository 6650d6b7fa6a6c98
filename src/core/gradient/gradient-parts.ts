/**
 * Which minutes are the elution and which the wash. Stated by the user, else found from the table: the elution is the
 * longest rise together with the rises next to it that are at most three times as steep; it moves to the tip by the
 * delay. The wash is everything later that is richer in organic than the elution's end. A table without a rise is all
 * elution. Judgement: the analyte's own retention is not known here.
 */
import { inputError } from '../errors.ts';
import type { GradientSpec } from '../setup.ts';

export interface Parts {
  elution: { start_min: number; end_min: number; rule: string };
  wash?: { start_min: number; end_min: number };
}

/** A rise steeper than this many times the longest one belongs to a wash or a start, not to the elution (judgement). */
export const STEEPER_IS_NOT_ELUTION = 3;
/** Richer than the end of the elution by this much counts as wash [% organic]. */
const RICHER_PERCENT = 1;

export function gradientParts(
  gradient: GradientSpec,
  delay_min: number,
  times_min: readonly number[],
  organicAt: (time_min: number) => number,
): Parts {
  const elution = gradient.elution
    ? statedElution(gradient.elution, times_min)
    : elutionOfTable(gradient, delay_min);
  const least = organicAt(elution.end_min) + RICHER_PERCENT;
  const rich = times_min.filter((time) => time > elution.end_min && organicAt(time) > least);
  if (rich.length === 0) return { elution };
  return { elution, wash: { start_min: rich[0]!, end_min: rich.at(-1)! } };
}

function statedElution(
  stated: { start_min: number; end_min: number },
  times_min: readonly number[],
): Parts['elution'] {
  const end = times_min.at(-1)!;
  if (stated.start_min >= end)
    throw inputError(
      'out of range',
      'gradient.elution.start_min',
      `${stated.start_min} min`,
      `within the run, before ${end.toPrecision(3)} min`,
    );
  return { start_min: stated.start_min, end_min: Math.min(end, stated.end_min), rule: 'elution as stated' };
}

function elutionOfTable(gradient: GradientSpec, delay_min: number): Parts['elution'] {
  const pieces = gradient.table.slice(1).map((row, i) => {
    const before = gradient.table[i]!;
    const lasts = row.time_min - before.time_min;
    return {
      from: before.time_min,
      to: row.time_min,
      lasts,
      slope: (row.percent_B - before.percent_B) / lasts,
    };
  });
  // B may hold less organic than A: the elution is where the organic rises.
  const sense = gradient.bottle_B_organic_percent >= gradient.bottle_A_organic_percent ? 1 : -1;
  const rises = pieces.map((piece) => piece.slope * sense > 0);
  let longest = -1;
  pieces.forEach((piece, i) => {
    if (rises[i] && (longest < 0 || piece.lasts > pieces[longest]!.lasts)) longest = i;
  });
  if (longest < 0)
    return {
      start_min: pieces[0]!.from + delay_min,
      end_min: pieces.at(-1)!.to + delay_min,
      rule: 'the table never rises: all of it counts as elution',
    };
  const belongs = (i: number) =>
    rises[i] === true &&
    Math.abs(pieces[i]!.slope) <= STEEPER_IS_NOT_ELUTION * Math.abs(pieces[longest]!.slope);
  let first = longest;
  let last = longest;
  while (belongs(first - 1)) first--;
  while (belongs(last + 1)) last++;
  return {
    start_min: pieces[first]!.from + delay_min,
    end_min: pieces[last]!.to + delay_min,
    rule: `elution found from the table: its longest rise and neighbours at most ${STEEPER_IS_NOT_ELUTION} times as steep${delay_min > 0 ? ', moved by the delay' : ''}`,
  };
}
