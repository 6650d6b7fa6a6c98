/** Phases and traces beside the level: on the strip, in the HTML report and in the picture that stands alone. */
import { expect, test } from 'vitest';
import { inventedRecord } from '../../../test/kit/made-reading.ts';
import { readingSvg } from '../../app/queue/pictures.ts';
import { methodOfGradient, readRun } from '../index.ts';
import type { RunReading } from '../run-reading.ts';
import { readingHtml, sidePicture } from './index.ts';

const method = methodOfGradient(
  {
    bottle_A_organic_percent: 0,
    bottle_B_organic_percent: 80,
    organic: 'acetonitrile',
    table: [
      { time_min: 0, percent_B: 3 },
      { time_min: 1, percent_B: 3 },
      { time_min: 4, percent_B: 40 },
      { time_min: 4.2, percent_B: 100 },
      { time_min: 5, percent_B: 100 },
      { time_min: 5.1, percent_B: 3 },
      { time_min: 6, percent_B: 3 },
    ],
  },
  undefined,
);

function reading(): RunReading {
  const time_s = Float64Array.from({ length: 361 }, (_, i) => i);
  const value = time_s.map((t) => 180 + t / 10);
  const traces = [{ name: 'pressure', unit: 'bar', time_s, value }];
  return readRun({ ...inventedRecord(), traces }, { method });
}

test('phases stand as boxes with their names, what is left out dotted; the trace keeps inside its frame', () => {
  const picture = sidePicture(reading(), { from_s: 0, to_s: 360 }, 1000)!;
  const labels = picture.marks.flatMap(({ text }) => text ?? []);
  expect(labels).toEqual(
    expect.arrayContaining(['inject', 'elution', 'wash', 're-equilibration', 'Pressure, bar']),
  );
  expect(picture.marks.filter(({ at }) => at.fill === 'url(#q-dots)')).toHaveLength(3);
  expect(picture.title).toContain('Pressure in the file (bar): 180 to 216');
  const path = String(picture.marks.find(({ at }) => at.class === 'd-trace')!.at.d);
  const numbers = [...path.matchAll(/[ML]([\d.]+) ([\d.]+)/g)];
  expect(numbers.length).toBeGreaterThan(300);
  for (const [, x, y] of numbers) {
    expect(Number(x)).toBeGreaterThanOrEqual(84);
    expect(Number(x)).toBeLessThanOrEqual(972);
    expect(Number(y)).toBeLessThanOrEqual(picture.height);
  }
});

test('a narrow strip shortens or drops names; a zoom drops the phases outside it', () => {
  const narrow = sidePicture(reading(), { from_s: 0, to_s: 360 }, 360)!;
  const kept = narrow.marks.flatMap(({ text }) => text ?? []);
  expect(kept).toContain('elution');
  expect(kept).not.toContain('re-equilibration');
  const zoomed = sidePicture(reading(), { from_s: 100, to_s: 200 }, 1000)!;
  const labels = zoomed.marks.flatMap(({ text }) => text ?? []);
  expect(labels).toContain('elution');
  expect(labels).not.toContain('wash');
  expect(sidePicture({}, { from_s: 0, to_s: 1 }, 1000)).toBeUndefined();
});

test('the HTML report and the picture that stands alone show phases and pressure; without them they do not', () => {
  const with_both = reading();
  const stamp = { made: '2031-02-03T04:05:06Z', version: '0', offset_min: () => 0 };
  const html = readingHtml('run.mzML', with_both, stamp);
  expect(html).toContain('<h2>Phases of the method, each judged by itself</h2>');
  expect(html).toContain('Found from the gradient table of the set-up');
  expect(html).toContain('Pressure in the file (bar)');
  for (const file of [html, readingSvg(with_both)]) {
    expect(file).toContain('>re-equilibration</text>');
    expect(file).toContain('>Pressure, bar</text>');
    expect(file).not.toMatch(/NaN|undefined/);
  }
  const plain = readRun(inventedRecord());
  expect(readingHtml('run.mzML', plain, stamp)).not.toContain('Phases of the method');
  expect(readingSvg(plain)).not.toContain('Phases of the method');
});
