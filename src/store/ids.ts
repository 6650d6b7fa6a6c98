/** Ids read `kind-number`: `run-3`. */
import { type BenchKind, benchKinds } from '../contract/index.ts';
import { type InputError, inputError } from '../core/errors.ts';

export interface ItemKey {
  kind: BenchKind;
  number: number;
}

export function itemId(kind: BenchKind, number: number): string {
  return `${kind}-${number}`;
}

/** Throws the same refusal for an id that cannot exist and, through `unknownItem`, for one that does not. */
export function itemKey(id: string): ItemKey {
  const match = /^([a-z]+)-([1-9]\d{0,14})$/.exec(id);
  const kind = benchKinds.find((name) => name === match?.[1]);
  if (!match || !kind) throw unknownItem(id);
  return { kind, number: Number(match[2]) };
}

export function unknownItem(id: string): InputError {
  const shown = id.length > 60 ? `${id.slice(0, 59)}…` : id;
  return inputError('unknown', 'bench item', `"${shown}"`, 'an id that the bench lists, such as run-3');
}
