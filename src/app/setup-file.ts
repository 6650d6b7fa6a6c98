/** A set-up document from a file or from text, YAML or JSON (JSON is YAML). */
import { createReadStream } from 'node:fs';
import { basename } from 'node:path';
import { type Document, isScalar, LineCounter, parseDocument, visit } from 'yaml';
import { observationsFrom, setupFrom } from '../contract/index.ts';
import { InputError, inputError } from '../core/errors.ts';
import type { Setup } from '../core/setup.ts';
import type { Observation } from '../core/window/index.ts';

/** A set-up is a page of text; what is larger is another kind of file. */
export const SETUP_BYTES_MAX = 1024 * 1024;
/** What a file is called in a refusal, and what would have been right. */
const SETUP = {
  name: 'set-up',
  expected: 'a YAML or JSON file; `steadycone setup new` prints one to start from',
};
const OBSERVATIONS = {
  name: 'observations',
  expected:
    'a YAML or JSON file with a list `observations`; `steadycone schema observations` lists its names',
};
type Called = typeof SETUP;

export async function loadSetupFile(path: string): Promise<Setup> {
  return setupFromText(await textOf(path, SETUP));
}

/** A set-up whose gradient tells the phases of a run. */
export async function loadMethodSetup(path: string): Promise<Setup> {
  return withGradient(await loadSetupFile(path), basename(path));
}

export function withGradient(setup: Setup, name: string): Setup {
  if (setup.gradient === undefined)
    throw inputError('missing', 'gradient', name, 'a set-up with a gradient table');
  return setup;
}

/** Throws one InputError: for the first fault of the notation with its line, or for every fault of the content. */
export function setupFromText(text: string): Setup {
  return setupFrom(documentFrom(text, SETUP));
}

/** What was seen on an emitter: a YAML or JSON document with a list `observations`. */
export async function loadObservations(path: string): Promise<Observation[]> {
  return observationsFrom(documentFrom(await textOf(path, OBSERVATIONS), OBSERVATIONS));
}

function documentFrom(text: string, { name }: Called): unknown {
  const lines = new LineCounter();
  try {
    const parsed = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: false });
    const error = parsed.errors[0];
    const fault = error ? { at: error.pos[0], message: error.message } : repeatedKey(parsed);
    if (!fault) return parsed.toJS();
    const { line, col } = lines.linePos(fault.at);
    const what = fault.message.split('\n')[0]?.trim();
    throw inputError('invalid', `${name} document`, `line ${line}, column ${col}, ${what}`, 'YAML or JSON');
  } catch (error) {
    if (error instanceof InputError) throw error;
    // Nested too deeply for the parser, or references that multiply beyond its limit.
    const what = error instanceof Error ? error.message : String(error);
    throw inputError('invalid', `${name} document`, what, 'plain YAML or JSON, a few levels deep');
  }
}

/** The parser's own check compares every key with every other: minutes for a document of 1 MB. */
function repeatedKey(document: Document): { at: number; message: string } | undefined {
  let found: { at: number; message: string } | undefined;
  visit(document, {
    Map(_, map) {
      const names = new Set<unknown>();
      for (const { key } of map.items) {
        if (!isScalar(key)) continue;
        if (names.has(key.value)) {
          found = {
            at: key.range?.[0] ?? 0,
            message: `"${String(key.value).slice(0, 60)}" stands there twice`,
          };
          return visit.BREAK;
        }
        names.add(key.value);
      }
      return undefined;
    },
  });
  return found;
}

async function textOf(path: string, called: Called): Promise<string> {
  const pieces: Buffer[] = [];
  let size = 0;
  try {
    // One byte more than allowed tells a file that is too large from one that just fits, also where no size is known.
    for await (const piece of createReadStream(path, { end: SETUP_BYTES_MAX })) {
      pieces.push(piece as Buffer);
      size += (piece as Buffer).length;
    }
  } catch (error) {
    throw fileFault(error, path, called);
  }
  if (size > SETUP_BYTES_MAX) {
    throw inputError(
      'out of range',
      `${called.name} file`,
      `${basename(path)}, more than 1 MB`,
      'at most 1 MB',
    );
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(pieces));
  } catch {
    throw inputError(
      'invalid',
      `${called.name} file`,
      `${basename(path)}, not UTF-8 text`,
      'YAML or JSON in UTF-8',
    );
  }
}

/** Faults of opening a file in the house grammar; any other error as it is. */
function fileFault(error: unknown, path: string, { name, expected }: Called): unknown {
  switch ((error as NodeJS.ErrnoException).code) {
    case 'ENOENT':
    case 'ENOTDIR':
      return inputError('missing', `${name} file`, path, expected);
    case 'EISDIR':
      return inputError('invalid', `${name} file`, `${path}, a folder`, expected);
    case 'EACCES':
    case 'EPERM':
      return inputError('invalid', `${name} file`, `${path}, not readable by you`, expected);
    default:
      return error;
  }
}
