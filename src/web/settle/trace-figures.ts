/** Reads a current trace beside the page, as the trace page does; the file never leaves the browser. */
import { wrap } from 'comlink';
import type { ReadFigures } from '../../core/settling/index.ts';
import { traceFigures } from '../../evidence/read-figures.ts';
import { refusedLines } from '../trace/refused.ts';
import type { TraceWork } from '../trace/trace-worker.ts';

export async function traceFiguresOf(file: File): Promise<ReadFigures> {
  const worker = new Worker(new URL('../trace/trace-worker.ts', import.meta.url), { type: 'module' });
  try {
    const work = wrap<TraceWork>(worker);
    const answer = await work.open({ file, options: {}, told: {} });
    if ('reading' in answer) return traceFigures(answer.reading, file.name);
    throw new Error(refusedLines(answer, { before: '' }).join('; '));
  } finally {
    worker.terminate();
  }
}
