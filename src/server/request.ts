/** What several routes ask of a request: a word of its address, and the bytes of a run in its body. */
import { Readable } from 'node:stream';
import type { FastifyRequest } from 'fastify';
import { inputError } from '../core/errors.ts';

export type Query = Record<string, string | string[] | undefined>;

/** The first of several; nothing is the empty word. */
export function word(value: string | string[] | undefined): string {
  return (Array.isArray(value) ? value[0] : value)?.trim() ?? '';
}

/** Hands the body on in pieces. A refusal is answered only after the rest was let through; a body broken off says so. */
export async function withRunBody<T>(
  { body, raw }: FastifyRequest,
  task: (pieces: AsyncIterable<Uint8Array>) => Promise<T>,
): Promise<T> {
  if (!(body instanceof Readable)) {
    throw inputError('missing', 'run', '', 'the bytes of an mzML or mzXML file as application/octet-stream');
  }
  try {
    // A reader that refuses early must not tear the connection down: the refusal could not be sent any more.
    return await task(body.iterator({ destroyOnReturn: false }));
  } catch (error) {
    if (body.destroyed && !raw.complete) {
      throw inputError(
        'invalid',
        'upload',
        'broken off before its end',
        'the whole file; nothing was stored',
      );
    }
    body.resume();
    throw error;
  }
}
