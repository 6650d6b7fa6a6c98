/** Every kind of document is refused by its own name, and the schema it points to lists its names. */
import { describe, expect, it } from 'vitest';
import { InputError } from '../core/errors.ts';
import { documentJsonSchema, documentKindFrom } from './documents.ts';
import { explainLogFrom, explainRequestFrom } from './explain.ts';
import { type DocumentKind, documentKinds } from './faults.ts';
import { observationsFrom } from './observations.ts';
import { settleProofFrom, settleReadingFrom, settleSessionFrom } from './settle.ts';
import { setupFrom } from './setup.ts';

const readers: Record<DocumentKind, (document: unknown) => unknown> = {
  setup: setupFrom,
  observations: observationsFrom,
  'settle-session': settleSessionFrom,
  'settle-reading': settleReadingFrom,
  'settle-proof': settleProofFrom,
  'explain-request': explainRequestFrom,
  'explain-log': explainLogFrom,
};

function refused(kind: DocumentKind, document: unknown): string {
  try {
    readers[kind](document);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return 'taken';
}

describe.each(Object.keys(readers) as DocumentKind[])('%s', (kind) => {
  const { name } = documentKinds[kind];
  const lists = `\`steadycone schema ${kind}\` lists`;

  it('is called by its own name, and points to its own schema', () => {
    expect(refused(kind, null)).toBe(`missing ${name}; expected a document with the names that ${lists}`);
    expect(refused(kind, undefined)).toBe(refused(kind, null));
    expect(refused(kind, 'a word')).toBe(`invalid ${name}: "a word"; expected a group of values`);
    expect(refused(kind, { spoon: 1 })).toContain(`unknown spoon: 1; expected a name that ${lists}`);
  });

  it('has a schema that says its name and describes each of its own', () => {
    expect(documentKindFrom(kind)).toBe(kind);
    const schema = documentJsonSchema(kind) as { title: string; type: string; properties: object };
    expect(schema).toMatchObject({ title: name, type: 'object', additionalProperties: false });
    expect(Object.keys(schema.properties)).not.toEqual([]);
  });
});

it('says of one name wrong deep inside where it stands', () => {
  expect(refused('observations', { observations: [{ tip_V: 1000, seen: 'steady', spoon: 1 }] })).toMatch(
    /^unknown observations\.0\.spoon: 1; expected a name that `steadycone schema observations` lists$/,
  );
  expect(documentKindFrom('spoon')).toBeUndefined();
});
