/** Level and scatter of one settle reading: from a run, of one ion where asked, or from a current trace. Nothing is kept. */
import { basename } from 'node:path';
import type { LevelRead } from '../contract/index.ts';
import type { ReadFigures } from '../core/settling/index.ts';
import { runFigures } from '../evidence/read-figures.ts';
import { readRunFile, readRunStream as readStream } from '../formats-node/index.ts';
import { type IonAsked, ionFrom, ionLevel } from './ion-level.ts';
import { fileName, readOneRun, readRunStream } from './read-one-run.ts';
import type { ReadTraceTask } from './read-trace.ts';
import { figuresOfTrace } from './settle-story.ts';

export async function levelFromRun(path: string, ion?: IonAsked): Promise<LevelRead> {
  if (ion !== undefined) return ionLevel((onMs1) => readRunFile(path, { onMs1 }), basename(path), ion);
  return levelOf(runFigures((await readOneRun(path)).reading, basename(path)));
}

/** The same of a run that arrives as a stream; `ion` as `settle add --ion` takes it, empty for the whole level. */
export async function levelFromStream(
  pieces: AsyncIterable<Uint8Array>,
  name: string,
  ion: string,
): Promise<LevelRead> {
  if (ion.trim() !== '')
    return ionLevel((onMs1) => readStream(pieces, { onMs1 }), fileName(name), ionFrom(ion));
  return levelOf(runFigures((await readRunStream(pieces, name)).reading, fileName(name)));
}

/** In nA, of any kind of trace that the Trace page reads; what the file leaves open, `told` settles. */
export async function levelFromTrace(path: string, told: ReadTraceTask = {}): Promise<LevelRead> {
  return levelOf(await figuresOfTrace(path, told));
}

function levelOf({ level, scatter_percent }: ReadFigures): LevelRead {
  return { level, ...(scatter_percent === undefined ? {} : { scatter_percent }) };
}
