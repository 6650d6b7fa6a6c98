/** The steps of a voltage walk from a file, or as they were typed. */
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { inputError } from '../../core/errors.ts';
import type { WalkStep } from '../../evidence/walk.ts';
import { isTypedSteps, stepsFrom, stepsTyped } from '../../evidence/walk-steps.ts';

const BYTES_MAX = 1 << 20;

export async function loadSteps(path: string): Promise<WalkStep[]> {
  const name = basename(path);
  const found = await stat(path).catch(() => undefined);
  if (!found && isTypedSteps(path)) return stepsTyped(path);
  if (!found) throw inputError('missing', 'step table', name, 'a CSV file with time_min and voltage_V');
  if (!found.isFile())
    throw inputError('invalid', 'step table', `${name}, no file`, 'a CSV file with time_min and voltage_V');
  if (found.size > BYTES_MAX)
    throw inputError('out of range', 'step table', `${name}, more than 1 MB`, 'at most 1 MB');
  return stepsFrom(await readFile(path, 'utf8'), name);
}
