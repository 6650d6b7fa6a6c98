import { describe, expect, it } from 'vitest';
import { badRun, madeFile, madeRun } from '../../../test/kit/made-queue.ts';
import { inventedReading } from '../../../test/kit/made-reading.ts';
import { jsonFault } from '../../../test/kit/made-record.ts';
import { nightsOf } from './nights.ts';
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
    const short = madeRun({ grade: 'cannot tell', kept: [], kept_share: 0, end_s: 30 });
    const report = queueReport([madeFile(1, short), madeFile(2, madeRun())]);
    expect(report.sentences[0]).toBe('2 files: 1 keep, 1 cannot tell. 60.0 min of 60.0 min can be used.');
    expect(queueText(report)).toMatch(/run_1\.mzML\s+6\.0 %\s+20 ms\s+cannot tell/);
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
