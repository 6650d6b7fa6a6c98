/** The level of a run that the page hands over: written beside the system's other passing files, read, and taken away again. */
import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { type IonLevel, ionFrom } from './ion-level.ts';
import { levelFromRun } from './settle.ts';

/** `ion`: as `settle add --ion` takes it; empty for the whole level. Nothing is kept. */
export async function levelFromUpload(
  pieces: AsyncIterable<Uint8Array>,
  name: string,
  ion: string,
): Promise<Pick<IonLevel, 'level' | 'scatter_percent'> & Partial<IonLevel>> {
  const asked = ion.trim() === '' ? undefined : ionFrom(ion);
  const folder = await mkdtemp(join(tmpdir(), 'steadycone-level-'));
  try {
    const path = join(folder, basename(name).replace(/[^\w.+-]/g, '_') || 'run');
    await pipeline(Readable.from(pieces), createWriteStream(path));
    return await levelFromRun(path, asked);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
