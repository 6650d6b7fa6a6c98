import type { BenchKind } from '../../contract/index.ts';

const names: Record<BenchKind, string> = {
  emitter: 'emitter',
  setup: 'set-up',
  plan: 'plan',
  run: 'run',
  reading: 'reading',
  point: 'working point',
  note: 'note',
};

export function kindName(kind: BenchKind): string {
  return names[kind];
}

/** Kinds a note can be put on. */
export function takesNotes(kind: BenchKind): boolean {
  return kind === 'emitter' || kind === 'setup' || kind === 'run' || kind === 'point';
}
