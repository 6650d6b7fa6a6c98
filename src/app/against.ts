/** Good runs that a run is held against: files, read once, or readings of the bench. */
import { stat } from 'node:fs/promises';
import { InputError, inputError } from '../core/errors.ts';
import { type AgainstReading, type NamedReading, readAgainst } from '../evidence/against/index.ts';
import type { RunReading } from '../evidence/index.ts';
import type { Bench } from './bench.ts';
import { keptRunReading } from './kept-reading.ts';
import { fileName, readOneRun } from './read-one-run.ts';

export type { AgainstReading, NamedReading } from '../evidence/against/index.ts';
export { againstCsv, againstText } from '../evidence/against/index.ts';

const KEPT = /^reading-\d+$/;

/** Each name is a run file, or the id of a reading where no file of that name stands. Nothing is kept. */
export async function goodRuns(names: readonly string[], bench: Bench | undefined): Promise<NamedReading[]> {
  const runs: NamedReading[] = [];
  for (const name of names) {
    const known = await stat(name).catch(() => undefined);
    if (known?.isDirectory())
      throw inputError(
        'invalid',
        'against',
        `${fileName(name)}, a folder`,
        'a run file or the id of a reading; a folder with --queue',
      );
    if (!known && KEPT.test(name)) {
      if (!bench)
        throw inputError('invalid', 'against', name, 'a run file: the bench is not open (--no-keep)');
      runs.push(...(await goodReadings([name], bench)));
    } else runs.push(await goodFile(name));
  }
  return runs;
}

/** Beside another run each line of a refusal names its file, and a file that breaks off says so wherever it serves. */
async function goodFile(path: string): Promise<NamedReading> {
  const name = fileName(path);
  try {
    const { reading } = await readOneRun(path);
    return { name: reading.broken ? `${name} (it breaks off)` : name, reading };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.faults.map((fault) =>
        fault.found.includes(name) ? fault : { ...fault, where: `${fault.where} ${name}` },
      ),
    );
  }
}

/** Kept readings by their ids. */
export async function goodReadings(ids: readonly string[], bench: Bench): Promise<NamedReading[]> {
  const runs: NamedReading[] = [];
  for (const id of ids) {
    const { name, reading } = await keptRunReading(bench, id);
    runs.push({ name: `${name} (${id})`, reading });
  }
  return runs;
}

export function heldAgainst(reading: RunReading, runs: readonly NamedReading[]): AgainstReading | undefined {
  return runs.length === 0 ? undefined : readAgainst(reading, runs);
}
