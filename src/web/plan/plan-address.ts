/** What the Plan page keeps in its address: the set-up (`?s=`) and what was seen on this emitter (`?o=`). */
import { observationsFrom } from '../../contract/index.ts';
import type { Observation } from '../../core/window/index.ts';
import { fromAddress, toAddress } from '../address.ts';
import type { SetupDraft } from './draft.ts';
import { exampleSetup } from './example-setup.ts';

export function draftIn(text: string): SetupDraft {
  return fromAddress(text) ?? exampleSetup;
}

/** The untouched example is not written. */
export function draftText(draft: SetupDraft): string {
  return draft === exampleSetup ? '' : toAddress(draft);
}

/** Rows that this version cannot read are none. */
export function observationsIn(text: string): readonly Observation[] {
  const document = fromAddress(text);
  if (document === undefined) return [];
  try {
    return observationsFrom(document);
  } catch {
    return [];
  }
}

export function observationsText(observations: readonly Observation[]): string {
  return observations.length === 0 ? '' : toAddress({ observations });
}
