/** JSON Schema (draft 2020-12) of each kind of document, as a person or a program writes it. */
import { z } from 'zod';
import { explainLogSchema, explainRequestSchema } from './explain.ts';
import { type DocumentKind, documentKinds } from './faults.ts';
import { observationsSchema } from './observations.ts';
import { settleProofSchema, settleReadingSchema, settleSessionSchema } from './settle.ts';
import { setupSchema } from './setup.ts';

const schemas: Record<DocumentKind, z.ZodType> = {
  setup: setupSchema,
  observations: observationsSchema,
  'settle-session': settleSessionSchema,
  'settle-reading': settleReadingSchema,
  'settle-proof': settleProofSchema,
  'explain-request': explainRequestSchema,
  'explain-log': explainLogSchema,
};

export function documentJsonSchema(kind: DocumentKind): object {
  return { title: documentKinds[kind].name, ...z.toJSONSchema(schemas[kind], { io: 'input' }) };
}

export function documentKindFrom(text: string): DocumentKind | undefined {
  return (Object.keys(documentKinds) as DocumentKind[]).find((kind) => kind === text);
}
