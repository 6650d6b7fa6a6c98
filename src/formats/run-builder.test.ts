/** Limits that keep a small hostile file from filling the memory: rows and parameter groups. */
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { cv, mzml, mzmlSpectrum, SECOND } from '../../test/data/made-runs.ts';
import { MzmlSink } from './mzml.ts';
import { RunBuilder } from './run-builder.ts';
import { runReader } from './run-reader.ts';
import { XmlFeed } from './xml-feed.ts';

const inflate = (bytes: Uint8Array, most: number) => inflateSync(bytes, { maxOutputLength: most });
const TAG_BYTES = 100;
const time = (i: number) => cv('MS:1000016', String(i), SECOND);

describe('rows without end', () => {
  const file = mzml([1, 2, 3, 4, 5].map((i) => mzmlSpectrum({ time: time(i) })));
  const ends = [...file.matchAll(/<\/spectrum>/g)].map((match) => match.index + match[0].length);

  it.each([
    ['fast', false],
    ['strict', true],
  ])('stop where the limit is passed, and what stood before is kept: %s', (_name, strict) => {
    const builder = new RunBuilder(3);
    const feed = new XmlFeed(new MzmlSink(builder, { inflate }), 'utf-8', 0, strict);
    feed.push(new TextEncoder().encode(file));
    feed.end();
    const run = builder.record('mzML', feed.broken, []);
    expect([...run.time_s]).toEqual([1, 2, 3]);
    expect(run.broken?.reason).toBe('more than 4 million MS1 spectra');
    expect(run.broken!.byte).toBeGreaterThanOrEqual(ends[2]!);
    // The strict parser tells of an end tag when it meets the next tag.
    expect(run.broken!.byte).toBeLessThanOrEqual(ends[3]! + TAG_BYTES);
  });

  it('are no matter below it', () => {
    const builder = new RunBuilder(5);
    const feed = new XmlFeed(new MzmlSink(builder, { inflate }), 'utf-8', 0);
    feed.push(new TextEncoder().encode(file));
    feed.end();
    expect(feed.broken).toBeUndefined();
  });
});

describe('parameter groups', () => {
  const group = (id: number, params: number) =>
    `<referenceableParamGroup id="g${id}">${cv('MS:1000130').repeat(params)}</referenceableParamGroup>`;
  const read = (groups: string) => {
    const reader = runReader({ inflate });
    reader.push(new TextEncoder().encode(mzml([mzmlSpectrum()], { groups })));
    return reader.end();
  };

  it('without end stop reading, however they are filled', () => {
    for (const [count, params] of [
      [201, 1000],
      [200_001, 0],
    ] as const) {
      const run = read(Array.from({ length: count }, (_, i) => group(i, params)).join(''));
      expect(run.broken?.reason).toBe('more than 200 000 parameters in groups');
      expect(run.ms1_count).toBe(0);
    }
  });

  it('hold no more than a thousand parameters each, and that is told', () => {
    const filled = group(0, 1500).replace('</ref', `${cv('MS:1000129')}</ref`);
    const reader = runReader({ inflate });
    const spectrum = mzmlSpectrum({ params: '<referenceableParamGroupRef ref="g0"/>' });
    reader.push(new TextEncoder().encode(mzml([spectrum], { groups: filled })));
    const run = reader.end();
    // What stands behind the thousandth is not taken.
    expect(run.polarity[0]).toBe(1);
    expect(run.warnings).toContain('501 parameters beyond the thousandth of a parameter group; left out.');
  });
});
