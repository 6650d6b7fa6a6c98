/** One file of a queue: read, or refused with its reason; and the order files stand in. */
import type { RunSummary } from './run-summary.ts';

export interface QueueFile {
  /** Without folders. */
  name: string;
  /** Of the bytes; null where the file could not be read to its end. */
  sha256: string | null;
  bytes: number;
  /** When the run began, ISO 8601; null where nothing tells. */
  began: string | null;
  /** `run`: the run file states it; `file`: the file's own time less the run's length, which copying may change. */
  began_from: 'run' | 'file' | null;
  /** Why there is no summary. */
  refusal: string | null;
  summary: RunSummary | null;
  /** Id of the kept reading; null where nothing is kept. */
  reading_id: string | null;
  /** Name of an earlier file with the same content. */
  same_as: string | null;
  /** Names the code, set-up and mask that judged it; null where nothing did or nobody noted it. */
  judged_by: string | null;
}

export type QueueOrder = 'start of the run' | 'time of the file' | 'name';

/**
 * By when the runs began where every readable file tells, else by name with numbers counted (run2 before run10). Files
 * that could not be read stand where their name falls when the order is by name, else at their own time.
 */
export function ordered(files: readonly QueueFile[]): { files: QueueFile[]; by: QueueOrder } {
  const told = files.length > 0 && files.every((file) => file.began !== null);
  const sorted = [...files].sort((a, b) => {
    const time = told ? Date.parse(a.began!) - Date.parse(b.began!) : 0;
    return time || byName(a.name, b.name);
  });
  const by = !told
    ? 'name'
    : files.every((file) => file.began_from === 'run' || file.summary === null)
      ? 'start of the run'
      : 'time of the file';
  return { files: sorted, by };
}

/** Marks each later file with the content of an earlier one, so that no run counts twice. */
export function markSameContent(files: readonly QueueFile[]): void {
  const seen = new Map<string, string>();
  for (const file of files) {
    if (file.sha256 === null) continue;
    const first = seen.get(file.sha256);
    if (first === undefined) seen.set(file.sha256, file.name);
    else file.same_as = first;
  }
}

/** Numbers in names count as numbers. */
export function byName(a: string, b: string): number {
  const left = pieces(a);
  const right = pieces(b);
  for (let i = 0; i < Math.min(left.length, right.length); i++) {
    const x = left[i]!;
    const y = right[i]!;
    if (x === y) continue;
    const numbers = /^\d+$/.test(x) && /^\d+$/.test(y) ? Number(x) - Number(y) : 0;
    if (numbers !== 0) return numbers;
    return x < y ? -1 : 1;
  }
  return left.length - right.length;
}

function pieces(name: string): string[] {
  return name.toLowerCase().match(/\d+|\D+/g) ?? [];
}
