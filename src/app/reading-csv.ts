/** The series of one kept reading as CSV. */

import { inputError } from '../core/errors.ts';
import { type RunReading, readingCsv } from '../evidence/index.ts';
import type { Bench } from './bench.ts';

export async function keptReadingCsv(bench: Bench, id: string): Promise<string> {
  const { item, document } = await bench.show(id);
  if (item.kind !== 'reading')
    throw inputError('invalid', 'reading', `"${id}"`, 'the id of a reading, such as reading-3');
  return readingCsv(document as RunReading);
}
