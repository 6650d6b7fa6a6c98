/** Reads a current trace beside the page, as the trace page does; the file never leaves the browser. */
import { proxy, wrap } from 'comlink';
import { faultLine } from '../../core/errors.ts';
import type { ReadFigures } from '../../core/settling/index.ts';
import { traceFigures } from '../../evidence/read-figures.ts';
import type { TraceWork } from '../trace/trace-worker.ts';

export async function traceFiguresOf(file: File): Promise<ReadFigures> {
  const worker = new Worker(new URL('../trace/trace-worker.ts', import.meta.url), { type: 'module' });
  try {
    const work = wrap<TraceWork>(worker);
    const answer = await work.open(
      { file, options: {}, told: {} },
      proxy(() => {}),
    );
    if ('reading' in answer) return traceFigures(answer.reading, file.name);
    if ('faults' in answer) throw new Error(answer.faults.map(faultLine).join('; '));
    throw new Error('trouble' in answer ? answer.trouble : 'Stopped. Nothing was kept.');
  } finally {
    worker.terminate();
  }
}
