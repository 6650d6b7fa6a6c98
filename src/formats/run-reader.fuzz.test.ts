import { inflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cv, mzml, mzmlSpectrum, mzxml, mzxmlScan, SECOND } from '../../test/data/made-runs.ts';
import { mixedRun } from '../../test/data/mixed-runs.ts';
import { plainRunOf } from '../../test/data/plain-runs.ts';
import { InputError } from '../core/errors.ts';
import { runReader } from './run-reader.ts';
import type { RunRecord } from './run-record.ts';

/** Enough to reach every state of the scanner many times; a few seconds. */
const RUNS = 400;
/** Where pieces part inside a character or behind a carriage return, the fault may be placed that many bytes off. */
const CHARACTER_BYTES = 8;

const times = [1, 2, 3, 4].map((n) => cv('MS:1000016', String(n), SECOND));
const FILES: Record<string, Uint8Array> = {
  mzML: new TextEncoder().encode(
    mzml(
      times.map((time, i) =>
        mzmlSpectrum({
          time,
          zlib: i === 1,
          ...(i === 2 ? { level: cv('MS:1000511', '2') } : {}),
          ...(i === 3 ? { params: '<!-- a <binary> b --><?p q?>' } : {}),
        }),
      ),
      { content: '<userParam name="caf\u00e9 &amp; \u4e16\u754c"/>' },
    ),
  ),
  // Tags that come again with other values, as the fast scanner learns them.
  'mzML as a converter writes it': new TextEncoder().encode(plainRunOf(4).document),
  'mzML with an index': new TextEncoder().encode(
    plainRunOf(1)
      .document.replace('<mzML', '<indexedmzML><mzML')
      .replace(
        /<\/mzML>\s*$/,
        `</mzML><indexList count="1"><index name="spectrum">${'<offset idRef="scan=1">123</offset>\n'.repeat(9)}</index></indexList></indexedmzML>`,
      ),
  ),
  'mzML of mixed variants': mixedRun(12).bytes,
  'mzML of other mixed variants': mixedRun(31).bytes,
  mzXML: new TextEncoder().encode(
    mzxml([mzxmlScan({ nested: mzxmlScan({ attributes: 'msLevel="2"' }) }), mzxmlScan({ zlib: true })]),
  ),
};

interface Outcome extends RunRecord {
  /** Row and sums of every spectrum handed on. */
  seen: number[][];
}

function outcome(bytes: Uint8Array, pieceBytes: number, strict: boolean): Outcome | string {
  try {
    const seen: number[][] = [];
    const total = (values: Float64Array) => values.reduce((a, b) => a + b, 0);
    const inflate = (packed: Uint8Array, max: number) => inflateSync(packed, { maxOutputLength: max });
    const reader = runReader({
      inflate,
      strict,
      onMs1: ({ row, mz, intensity }) => seen.push([row, total(mz), total(intensity)]),
    });
    for (let at = 0; at < bytes.length; at += pieceBytes) reader.push(bytes.subarray(at, at + pieceBytes));
    const run = reader.end();
    // An ampersand without semicolon swallows what follows, and other faults in it, until the piece ends: only the
    // place and the name of the fault may depend on the pieces.
    if (run.broken?.reason.includes('entity')) run.broken = { byte: 0, reason: 'entity' };
    return { ...run, seen };
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

const MARKUP = [
  '<',
  '>',
  '"',
  "'",
  '&',
  '/',
  '<!--',
  '-->',
  '<![CDATA[',
  ']]>',
  '<?',
  '?>',
  '=',
  '\0',
  '\r',
  ':',
  '\u00e9',
];
const change = fc.record({
  at: fc.nat(1e6),
  drop: fc.integer({ min: 0, max: 40 }),
  put: fc.oneof(fc.constantFrom(...MARKUP), fc.string({ maxLength: 6 })),
});

describe.each(Object.entries(FILES))('a damaged %s', (_name, whole) => {
  it('gives a record or a refusal, the same in any pieces, by the strict parser and by the fast scanner', () => {
    fc.assert(
      fc.property(
        fc.array(change, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 3000 }),
        (changes, pieceBytes) => {
          let bytes = Buffer.from(whole);
          for (const { at, drop, put } of changes) {
            const place = at % (bytes.length + 1);
            bytes = Buffer.concat([bytes.subarray(0, place), Buffer.from(put), bytes.subarray(place + drop)]);
          }
          const expected = outcome(bytes, bytes.length + 1, true);
          for (const size of [pieceBytes, bytes.length + 1]) {
            const found = outcome(bytes, size, false);
            if (
              typeof found === 'object' &&
              typeof expected === 'object' &&
              found.broken &&
              expected.broken
            ) {
              const swallowed = [found, expected].some((run) => run.broken?.reason === 'entity');
              const apart = Math.abs(found.broken.byte - expected.broken.byte);
              if (!swallowed) expect(apart).toBeLessThanOrEqual(CHARACTER_BYTES);
              found.broken = swallowed ? expected.broken : { ...found.broken, byte: expected.broken.byte };
            }
            expect(found).toEqual(expected);
          }
        },
      ),
      { numRuns: RUNS, seed: 20_260 },
    );
  });
});
