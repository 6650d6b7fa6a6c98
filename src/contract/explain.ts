/** A request for an explanation: what a person answered, and where measurements stand. */
import { z } from 'zod';
import { InputError } from '../core/errors.ts';
import type { Setup } from '../core/setup.ts';
import { type DocumentKind, faultsIn } from './faults.ts';
import { setupFrom } from './setup.ts';

/** No session asks more than the catalogue holds. */
const ANSWERS_MOST = 200;
const word = z.string().trim().min(1).max(80);

export const explainRequestSchema = z.strictObject({
  answers: z
    .array(z.strictObject({ observable: word, outcome: word }))
    .max(ANSWERS_MOST)
    .optional(),
  cannot: z.array(word).max(ANSWERS_MOST).optional(),
  /** A reading of the bench. */
  reading_id: word.optional(),
  /** The label of a queue: the emitter's earlier runs. */
  emitter: word.optional(),
  /** A set-up document. */
  setup: z.unknown().optional(),
  current: z
    .strictObject({
      regime: word,
      probability: z.number().min(0).max(1),
      multipleOfExpected: z.number().min(0).max(1e6).optional(),
    })
    .optional(),
  frames: z.strictObject({ meniscus: word, probability: z.number().min(0).max(1) }).optional(),
});

export interface ExplainRequest extends Omit<z.infer<typeof explainRequestSchema>, 'setup'> {
  setup?: Setup | undefined;
}

export const explainLogSchema = z.strictObject({
  /** Where it is kept: a reading, run, set-up, plan or emitter. */
  on: word,
  lines: z.array(z.string().trim().min(1).max(600)).min(1).max(ANSWERS_MOST),
  who: z.string().trim().max(80).optional(),
});
export type ExplainLog = z.infer<typeof explainLogSchema>;

/** Throws one InputError with every fault. */
export function explainRequestFrom(document: unknown): ExplainRequest {
  const { setup, ...rest } = parsed(explainRequestSchema, document, 'explain-request');
  return { ...rest, ...(setup === undefined || setup === null ? {} : { setup: setupFrom(setup) }) };
}

export function explainLogFrom(document: unknown): ExplainLog {
  return parsed(explainLogSchema, document, 'explain-log');
}

function parsed<T>(schema: z.ZodType<T>, document: unknown, kind: DocumentKind): T {
  const result = schema.safeParse(document);
  if (result.success) return result.data;
  throw new InputError(faultsIn(result.error, document, kind));
}
