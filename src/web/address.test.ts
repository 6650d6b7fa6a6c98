import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fromAddress, toAddress } from './address.ts';

it('brings any JSON object back, in characters that need no escaping', () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (document) => {
      const plain: unknown = JSON.parse(JSON.stringify(document));
      const text = toAddress(plain);
      expect(text).toMatch(/^[\w-]*$/);
      expect(JSON.stringify(fromAddress(text))).toBe(JSON.stringify(plain));
    }),
  );
});

it('answers undefined to anything else', () => {
  expect(fromAddress('***')).toBeUndefined();
  expect(fromAddress(toAddress([1, 2]))).toBeUndefined();
  expect(fromAddress('')).toBeUndefined();
});
