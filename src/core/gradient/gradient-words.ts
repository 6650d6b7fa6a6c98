/** Sentences over the whole gradient: delay, what the ramp wins, what the liquid column takes. */
import type { LiquidColumnSegment } from '../setup.ts';
import type { GradientPlan, TipDelay } from './gradient-plan.ts';
import { chanceWords, minuteWords } from './moment.ts';
import { tipDelay } from './tip-delay.ts';

/** What the liquid between contact and tip alone delays [min]. */
export function leastDelay(column: readonly LiquidColumnSegment[], flow_nL_min: number): number {
  const pieces = column.map((piece, k) => ({ name: `piece ${k + 1}`, kind: 'tube' as const, ...piece }));
  return tipDelay(pieces, flow_nL_min).delay_min;
}

export function delayWords(delay: TipDelay | null, least_min: number): string[] {
  if (delay === null) {
    const lags = 'the times are those at the pump and the tip lags behind';
    return [
      least_min > 0
        ? `No volumes between pump and tip are given: ${lags}, by ${minuteWords(least_min)} for the liquid between contact and tip alone.`
        : `No volumes between pump and tip are given: the delay is unknown, ${lags}. A packed bed alone can take minutes.`,
    ];
  }
  const said = [
    `A change at the pump reaches the tip after ${minuteWords(delay.delay_min)}, smeared by ${minuteWords(delay.smearing_min)} (one standard deviation). The organic solvent is taken as not retained; in a reversed-phase bed it arrives later.`,
  ];
  for (const piece of delay.pieces)
    if (!piece.valid && piece.note) said.push(`${piece.name}: ${piece.note}.`);
  return said;
}

/** A win of the ramp worth a sentence, in probability. */
const WIN_WORTH_SAYING = 0.03;

export function winWords(fixed: number, ramp: number): string[] {
  if (ramp - fixed < WIN_WORTH_SAYING) return [];
  return [
    `Against the best single voltage the ramp wins: ${chanceWords(fixed)} become ${chanceWords(ramp)}.`,
  ];
}

/** A share of the supply lost in the liquid that a person should hear of. */
const DROP_WORTH_SAYING = 0.1;

export function dropWords(plan: GradientPlan): string[] {
  const inElution = plan.part.map((part, k) => ({ part, k })).filter(({ part }) => part === 'elution');
  const share = (k: number) => plan.ohmic_share.middle[k]!;
  const [first, last] = [inElution[0]!.k, inElution.at(-1)!.k];
  if (Math.max(share(first), share(last)) < DROP_WORTH_SAYING) return [];
  const words = (k: number) =>
    `${Math.round(plan.ohmic_drop_V.middle[k]!)} V (${Math.round(share(k) * 100)} %)`;
  return [
    `The liquid between contact and tip takes ${words(first)} of the supply at the start of the elution and ${words(last)} at its end: the tip does not see a constant voltage.`,
  ];
}
