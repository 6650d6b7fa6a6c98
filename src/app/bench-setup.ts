/** Set-ups of the bench: one kept by itself, and one taken for the reading of a run. */
import { setupFrom } from '../contract/index.ts';
import { inputError } from '../core/errors.ts';
import type { Setup } from '../core/setup.ts';
import type { Bench } from './bench.ts';
import { withGradient } from './setup-file.ts';

/** Throws one InputError with every fault of the document; the same set-up twice is one on the bench. */
export async function keepSetup(bench: Bench, document: unknown, who = ''): Promise<{ setup_id: string }> {
  const { id } = await bench.store.addSetup(setupFrom(document), bench.stamp(who));
  return { setup_id: id };
}

export async function benchSetup(bench: Bench, id: string): Promise<Setup> {
  const { item, document } = await bench.show(id);
  if (item.kind !== 'setup')
    throw inputError('invalid', 'set-up', `"${id}"`, 'the id of a set-up on the bench, such as setup-3');
  return setupFrom(document);
}

/** The set-up of the bench whose gradient tells the phases of a run. */
export async function benchMethodSetup(bench: Bench, id: string): Promise<Setup> {
  return withGradient(await benchSetup(bench, id), id);
}
