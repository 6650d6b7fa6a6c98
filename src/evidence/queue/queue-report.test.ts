import { describe, expect, it } from 'vitest';
import { badRun, madeFile, madeRun } from '../../../test/kit/made-queue.ts';
import { inventedReading } from '../../../test/kit/made-reading.ts';
import { jsonFault } from '../../../test/kit/made-record.ts';
import { eventPicture } from './event-picture.ts';
import { hoursOf, nightsOf } from './nights.ts';
import { pictureSvg } from './picture.ts';
import { byName, ordered } from './queue-file.ts';
import { nightPicture, trendPicture, warningPicture } from './queue-pictures.ts';
import { queueReport } from './queue-report.ts';
import { queueCsv, queueText } from './queue-text.ts';
import { queueHtml, readingHtml } from './report-html.ts';

const stamp = { made: '2031-02-05T08:00:00.000Z', version: '0.0.0', offset_min: () => 60 };
const sound = (count: number) => Array.from({ length: count }, (_, i) => madeFile(i + 1, madeRun()));

describe('the order of a queue', () => {
  it('counts numbers in names', () => {
    expect(['run10', 'run2', 'Run1', 'a', 'run2b'].sort(byName)).toEqual([
      'a',
      'Run1',
      'run2',
      'run2b',
      'run10',
    ]);
  });

  it('goes by time where every file tells, else by name', () => {
    const files = [madeFile(2, madeRun()), madeFile(1, madeRun())];
    expect(ordered(files).files.map((file) => file.name)).toEqual(['run_1.mzML', 'run_2.mzML']);
    expect(ordered(files).by).toBe('start of the run');
    const late = [
      madeFile(1, madeRun(), { began: '2031-03-01T00:00:00Z', began_from: 'file' }),
      madeFile(2, madeRun()),
    ];
    expect(ordered(late).files.map((file) => file.name)).toEqual(['run_2.mzML', 'run_1.mzML']);
    expect(ordered(late).by).toBe('time of the file');
    expect(ordered([madeFile(10, madeRun(), { began: null }), madeFile(2, madeRun())]).by).toBe('name');
  });
});

describe('a queue report', () => {
  it('names the first bad file, where the queue is lost, and two bad files in a row', () => {
    const files = sound(12);
    for (const i of [4, 8, 9, 11]) files[i] = madeFile(i + 1, badRun());
    files[10] = madeFile(11, null);
    const report = queueReport(files);
    expect(report.counts).toEqual({ keep: 7, keep_these_minutes: 0, repeat: 4, cannot_tell: 0, not_read: 1 });
    expect(report.first_bad).toBe(4);
    expect(report.bad_from).toBe(8);
    expect(report.warning.alarm).toEqual({ file: 9, reason: 'two bad files in a row' });
    expect(report.sentences[1]).toMatch(/^First bad file: run_5\.mzML \(file 5\)\./);
  });

  it('sees the scatter move before the injection time', () => {
    const files = Array.from({ length: 40 }, (_, i) => {
      const wobble = 1 + 0.05 * Math.sin(7 * i);
      return madeFile(
        i + 1,
        madeRun({
          scan_scatter: 0.06 * wobble * (i > 20 ? 1.15 ** (i - 20) : 1),
          injection_ms: 20 * wobble * (i > 28 ? 1.2 ** (i - 28) : 1),
        }),
      );
    });
    const report = queueReport(files);
    expect(report.warning.alarm!.file).toBeGreaterThan(20);
    expect(report.warning.alarm!.file).toBeLessThan(28);
    expect(report.sentences.join(' ')).toContain('The scatter rose before fewer ions came');
    expect(report.trends[0]!.p).toBeLessThan(0.01);
    expect(jsonFault(report)).toBeUndefined();
  });

  it('leaves what cannot be told out of the sums', () => {
    const sentence = 'Cannot tell: 30 s is too short, at least 60 s are needed.';
    const short = madeRun({ grade: 'cannot tell', sentence, kept: [], kept_share: 0, end_s: 30 });
    const report = queueReport([madeFile(1, short), madeFile(2, madeRun())]);
    expect(report.sentences[0]).toBe('2 files: 1 keep, 1 cannot tell. 60.0 min of 60.0 min can be used.');
    expect(queueText(report)).toMatch(/run_1\.mzML\s+6\.0 %\s+20 ms\s+cannot tell: 30 s is too short/);
    expect(queueReport([madeFile(1, short)]).sentences[0]).toBe('1 file: 1 cannot tell.');
  });

  it('counts the same content once and refuses nothing to an empty folder', () => {
    const twice = [...sound(3), madeFile(4, badRun(), { same_as: 'run_1.mzML' })];
    expect(queueReport(twice).counts.repeat).toBe(0);
    expect(queueReport([]).sentences).toEqual(['No run file.']);
    expect(queueReport([madeFile(1, null)]).sentences).toEqual(['None of the files could be read.']);
  });
});

describe('nights', () => {
  it('go from noon to noon by local time, with the kept minutes on the clock', () => {
    const kept = [{ start_s: 600, end_s: 1800 }];
    const at = (began: string) => madeFile(1, madeRun({ kept, kept_share: 1 / 3 }), { began });
    const report = queueReport([
      at('2031-02-03T18:00:00Z'),
      at('2031-02-04T10:59:00Z'),
      at('2031-02-04T11:00:00Z'),
    ]);
    const nights = nightsOf(report, () => 60);
    expect(nights.map((night) => [night.name, night.runs.length])).toEqual([
      ['Night of 3 to 4 February 2031', 2],
      ['Night of 4 to 5 February 2031', 1],
    ]);
    const [run] = nights[0]!.runs;
    expect(run!.from_h).toBeCloseTo(7, 9);
    expect(run!.kept_h[0]!.from_h).toBeCloseTo(7 + 1 / 6, 9);
    expect(nights[0]!.kept_s).toBe(2400);
    // A run across noon ends there.
    expect(nights[0]!.runs[1]!.to_h).toBe(24);
    expect(nightsOf(queueReport([madeFile(1, madeRun(), { began: null })]), () => 0)).toEqual([]);
    expect(hoursOf(nights)).toEqual({ from_h: 0, to_h: 24 });
    expect(hoursOf([])).toEqual({ from_h: 0, to_h: 24 });
  });

  it('are drawn over the hours that hold runs, the same for every night', () => {
    const at = (began: string, end_s: number) => madeFile(1, madeRun({ end_s }), { began });
    const hours = (...files: ReturnType<typeof at>[]) => hoursOf(nightsOf(queueReport(files), () => 0));
    expect(hours(at('2031-02-03T20:10:00Z', 3600), at('2031-02-04T22:00:00Z', 10_000))).toEqual({
      from_h: 8,
      to_h: 13,
    });
    expect(hours(at('2031-02-04T11:30:00Z', 600))).toEqual({ from_h: 20, to_h: 24 });
    expect(hours(at('2031-02-03T12:10:00Z', 600))).toEqual({ from_h: 0, to_h: 4 });
    const [night] = nightsOf(queueReport([at('2031-02-03T20:10:00Z', 3600)]), () => 0);
    const drawn = nightPicture(night!, 800, { from_h: 8, to_h: 12 });
    expect(drawn.title).toContain('from 20:00 to 00:00');
    const bar = drawn.marks.find(({ at: { class: name } }) => name === 'd-ink')!;
    // One hour of four, of 800 px less 14 on both sides.
    expect(Number(bar.at.width)).toBeCloseTo(193, 0);
    expect(drawn.marks.flatMap(({ text }) => text ?? [])).toEqual([
      '20:00',
      '21:00',
      '22:00',
      '23:00',
      '00:00',
    ]);
  });
});

describe('what leaves a queue', () => {
  const files = sound(12);
  files[2] = madeFile(3, null, { name: '=cmd,"x"<b>.mzML', began: files[2]!.began });
  files[6] = madeFile(7, badRun());
  const report = queueReport(files, { label: 'tip <7>' });

  it('is text with one line for each file', () => {
    const text = queueText(report);
    for (const file of files) expect(text).toContain(file.name);
    expect(text).toContain('not read: invalid run file');
    expect(text).toContain('Rule of the early warning: The first 10 files');
  });

  it('is CSV of one width in which no cell is a formula', () => {
    const lines = queueCsv(report).trimEnd().split('\r\n');
    expect(lines).toHaveLength(13);
    expect(lines[3]).toMatch(/^"'=cmd,""x""<b>\.mzML",/);
    const plain = lines.filter((_, i) => i !== 3);
    expect(new Set(plain.map((line) => line.split(',').length))).toEqual(new Set([15]));
  });

  it('tells the events that come back from those of their own, in words and drawn', () => {
    const event = (at: number) => ({
      kind: 'sag' as const,
      start_s: at - 5,
      end_s: at + 5,
      depth: 0.5,
      confidence: 0.8,
    });
    const own = [312, 1500, 2800];
    const made = sound(12).map((file, i) => ({
      ...file,
      summary: { ...file.summary!, events: [event(1380 + (i % 3)), ...(i < 3 ? [event(own[i]!)] : [])] },
    }));
    const told = queueReport(made);
    expect(told.recurring.own.map(({ file, time_s, kind }) => [file, time_s, kind])).toEqual([
      [0, 312, 'sag'],
      [1, 1500, 'sag'],
      [2, 2800, 'sag'],
    ]);
    expect(queueText(told)).toContain('  run_2.mzML: sag at 25:00 (min:s)');
    const { marks, title } = eventPicture(told, 800)!;
    expect(title).toContain('12 come back at the same run time, 3 stand alone');
    expect(marks.filter(({ shape }) => shape === 'circle')).toHaveLength(12);
    expect(marks.filter(({ tip, shape }) => shape === 'path' && tip !== undefined)).toHaveLength(3);
    expect(queueHtml(told, stamp)).toContain('<li>run_2.mzML: sag at 25:00 (min:s)</li>');
    expect(eventPicture(queueReport(sound(3)), 800)).toBeUndefined();
  });

  it('is drawings and pages with every name escaped', () => {
    const [night] = nightsOf(report, () => 0);
    const drawn = [
      pictureSvg(nightPicture(night!, 800)),
      ...report.warning.charts.map((chart) => pictureSvg(warningPicture(chart, report, 800))),
      ...report.trends.map((trend) => pictureSvg(trendPicture(trend, report, 400))),
      queueHtml(report, stamp),
      readingHtml('a<b>.mzML', inventedReading(), stamp),
    ];
    expect(drawn.length).toBeGreaterThan(8);
    for (const text of drawn) {
      expect(text).not.toMatch(/NaN|Infinity|undefined|<b>|<7>/);
    }
    expect(drawn.at(-2)).toContain('Queue tip &lt;7&gt;');
    expect(drawn.at(-1)).toContain('INVENTED DATA');
  });
});
