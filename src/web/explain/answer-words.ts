/** A question of the catalogue and its answer in words; an id that the catalogue does not know stands as it is. */
import { OBSERVABLES } from '../../core/causes/index.ts';

export function questionOf(id: string): string {
  return OBSERVABLES.find((one) => one.id === id)?.question ?? id;
}

export function outcomeWords(id: string, outcome: string): string {
  const known = OBSERVABLES.find((one) => one.id === id);
  return known?.outcomes.find((one) => one.id === outcome)?.words ?? outcome;
}

export function answerLine(id: string, outcome: string): string {
  return `${questionOf(id)} ${outcomeWords(id, outcome)}`;
}
