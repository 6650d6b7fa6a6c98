/** The note's own check, for callers that did not come through HTTP or the command line. */
import { type NoteRequest, noteRequestSchema } from '../contract/index.ts';
import { type Fault, InputError } from '../core/errors.ts';

const expectations: Record<string, string> = {
  on: 'the id of an emitter, set-up, plan, run, reading or working point, such as run-3',
  text: '1 to 2000 characters',
  who: 'at most 80 characters',
};

/** Throws one InputError that names every fault. */
export function noteRequestFrom(document: unknown): NoteRequest {
  const result = noteRequestSchema.safeParse(document);
  if (result.success) return result.data;
  const names = new Set(result.error.issues.map((issue) => String(issue.path[0] ?? '')));
  throw new InputError(
    [...names].map(
      (name): Fault => ({
        kind: 'invalid',
        where: name === '' ? 'note' : `note ${name}`,
        found: '',
        expected: expectations[name] ?? 'a document with on, text and who',
      }),
    ),
  );
}
