import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Base64Text } from './base64.ts';

const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

it('gives back any bytes, whatever pieces and line breaks the text arrives in', () => {
  const text = new Base64Text();
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 200 }), fc.integer({ min: 1, max: 80 }), (bytes, width) => {
      text.start(1000);
      const encoded = Buffer.from(bytes).toString('base64');
      for (let at = 0; at < encoded.length; at += width)
        text.append(bytesOf(`${encoded.slice(at, at + width)}\n`));
      expect([...text.decode()!]).toEqual([...bytes]);
    }),
  );
});

it('takes text without padding and refuses what is not base64', () => {
  const text = new Base64Text();
  const decode = (content: string) => {
    text.start(1000);
    text.append(bytesOf(content));
    return text.decode();
  };
  expect([...decode('AQI')!]).toEqual([1, 2]);
  expect([...decode('')!]).toEqual([]);
  for (const bad of ['A', 'AAAAA', 'AA=', 'AAA==', '=', 'AA==AA==', 'A-A_', 'AAA&', 'AAAA\u00e9AAA'])
    expect(decode(bad)).toBeUndefined();
});

it('drops what goes beyond its limit', () => {
  const text = new Base64Text();
  text.start(8);
  text.append(bytesOf('AAAA'));
  text.append(bytesOf('AAAAA'));
  expect(text.overflow).toBe(true);
  expect(text.length).toBe(4);
});
