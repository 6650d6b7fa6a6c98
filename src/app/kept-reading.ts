/** A reading of the bench with the run it is of, for what is computed from it anew. */
import { inputError } from '../core/errors.ts';
import type { RunReading } from '../evidence/index.ts';
import type { Bench } from './bench.ts';

export interface KeptRunReading {
  id: string;
  reading: RunReading;
  /** Name of the run, else the id. */
  name: string;
  sha256: string | null;
}

/** Throws an InputError for any other item, and for a reading that an older version made. */
export async function keptRunReading(bench: Bench, id: string): Promise<KeptRunReading> {
  const { item, document } = await bench.show(id);
  const reading = document as Partial<RunReading>;
  if (item.kind !== 'reading' || reading.stability === undefined || reading.groups === undefined)
    throw inputError(
      'invalid',
      'reading',
      `"${id}"`,
      'a reading of a run by this version; read an older one again',
    );
  const run = item.on === undefined ? undefined : await bench.show(item.on);
  const facts = run?.document as { sha256?: string; name?: string } | undefined;
  return {
    id: item.id,
    reading: document as RunReading,
    name: facts?.name ?? item.id,
    sha256: facts?.sha256 ?? null,
  };
}
