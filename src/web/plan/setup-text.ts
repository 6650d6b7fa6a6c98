/** A set-up from pasted text or a file, YAML or JSON (JSON is YAML), by the same contract as the form. */
import { setupFrom } from '../../contract/index.ts';
import { inputError } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import { isRecord } from '../address.ts';
import { saidBy } from '../said-by.ts';
import type { SetupDraft } from './draft.ts';

/** A set-up is a page of text; what is larger is another kind of file. */
export const SETUP_CHARACTERS_MAX = 200_000;

/** The document as it stands, with the set-up it means. Throws one InputError with every fault. */
export async function setupFromText(text: string): Promise<{ document: SetupDraft; setup: Setup }> {
  if (text.trim() === '') throw inputError('missing', 'set-up', 'no text', 'YAML or JSON');
  if (text.length > SETUP_CHARACTERS_MAX)
    throw inputError(
      'out of range',
      'set-up',
      `${text.length} characters`,
      `at most ${SETUP_CHARACTERS_MAX}`,
    );
  // The reader is fetched only when a set-up is read.
  const { LineCounter, parseDocument } = await import('yaml');
  const lines = new LineCounter();
  const parsed = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const error = parsed.errors[0];
  if (error !== undefined) {
    const { line, col } = lines.linePos(error.pos[0]);
    const what = error.message.split('\n')[0]?.trim() ?? '';
    throw inputError('invalid', 'set-up document', `line ${line}, column ${col}, ${what}`, 'YAML or JSON');
  }
  const document: unknown = parsed.toJS();
  if (!isRecord(document))
    throw inputError('invalid', 'set-up document', 'no list of keys', 'a set-up as this page saves it');
  return { document, setup: setupFrom(document) };
}

export function troubleText(trouble: unknown): string {
  return saidBy(trouble).replaceAll('\n', '; ');
}
