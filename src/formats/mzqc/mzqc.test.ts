/** The metrics against a second, plain implementation, and the document against the official schema where it is at hand. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { inventedRecord } from '../../../test/kit/made-reading.ts';
import { jsonFault, madeRecord } from '../../../test/kit/made-record.ts';
import { randomStream } from '../../core/random.ts';
import type { RunRecord } from '../run-record.ts';
import { mzqcDocument } from './mzqc.ts';
import { ownMetric, ownTerms } from './own-terms.ts';
import { psiMetrics } from './psi-metrics.ts';

const data = join(import.meta.dirname, '../../../../shared/data/mzqc');
const absent = existsSync(data) ? '' : ' (SKIPPED: the official schema is absent on this machine)';

/** Relative: two orders of summing. */
const ROUNDING = 1e-12;

function metricOf(record: RunRecord, accession: string): unknown {
  return psiMetrics(record).find((metric) => metric.accession === accession)?.value;
}

/** Quantile by the textbook: sort, then linear between neighbours. */
function plainQuantile(values: number[], share: number): number {
  const sorted = values.slice().sort((a, b) => a - b);
  const place = (sorted.length - 1) * share;
  const floor = Math.floor(place);
  const part = place - floor;
  return part === 0 ? sorted[floor]! : sorted[floor]! * (1 - part) + sorted[floor + 1]! * part;
}

function ragged(seed: number, count: number): RunRecord {
  const draw = randomStream(seed, 'ragged');
  return madeRecord(
    Array.from({ length: count }, (_, i) => ({
      time_s: 1.3 * i + draw.unit(),
      tic: 1e7 * draw.factor(1.4),
      injection_ms: Math.min(50, 10 * draw.factor(0.8)),
    })),
  );
}

describe('PSI metrics against a plain second implementation', () => {
  it.each([1, 2, 3])('seed %i', (seed) => {
    const record = ragged(seed, 401);
    const tic = [...record.tic_stated];
    const pairs = tic.slice(1).map((now, i) => now / tic[i]!);
    expect(metricOf(record, 'MS:4000097')).toBe(pairs.filter((ratio) => ratio > 10).length);
    expect(metricOf(record, 'MS:4000098')).toBe(pairs.filter((ratio) => ratio < 0.1).length);
    expect(pairs.filter((ratio) => ratio > 10 || ratio < 0.1).length).toBeGreaterThan(5);

    const close = (found: unknown, expected: number[]) => {
      expect(found).toHaveLength(expected.length);
      (found as number[]).forEach((value, i) => {
        expect(Math.abs(value / expected[i]! - 1)).toBeLessThan(ROUNDING * 1e3);
      });
    };
    const ratios = (values: number[]) => {
      const q = [0.25, 0.5, 0.75, 1].map((share) => plainQuantile(values, share));
      return [1, 2, 3].map((k) => Math.log(q[k]!) - Math.log(q[k - 1]!));
    };
    close(metricOf(record, 'MS:4000186'), ratios(tic.slice(1).map((now, i) => Math.abs(now - tic[i]!))));
    close(metricOf(record, 'MS:4000187'), ratios(tic));

    const fills = [...record.injection_ms];
    const mean = fills.reduce((a, b) => a + b) / fills.length;
    const sigma = Math.sqrt(
      fills.map((fill) => (fill - mean) ** 2).reduce((a, b) => a + b) / (fills.length - 1),
    );
    const [q1, q2, q3] = [0.25, 0.5, 0.75].map((share) => plainQuantile(fills, share)) as [
      number,
      number,
      number,
    ];
    close(metricOf(record, 'MS:4000131'), [q1, q2, q3]);
    close([metricOf(record, 'MS:4000132')], [mean]);
    close([metricOf(record, 'MS:4000133')], [sigma]);
    const sorted = fills.slice().sort((a, b) => a - b);
    expect(metricOf(record, 'MS:4000134')).toEqual(sorted.filter((fill) => fill < q1 - 1.5 * (q3 - q1)));
    expect(metricOf(record, 'MS:4000135')).toEqual(sorted.filter((fill) => fill > q3 + 1.5 * (q3 - q1)));
    expect(metricOf(record, 'MS:4000135')).not.toEqual([]);

    const time = [...record.time_s];
    let area = 0;
    for (let i = time.length - 1; i > 0; i--)
      area += 0.5 * (time[i]! - time[i - 1]!) * (tic[i]! + tic[i - 1]!);
    close([metricOf(record, 'MS:4000029')], [area]);
    const total = tic.reduce((a, b) => a + b);
    const reach = (share: number) =>
      time[tic.findIndex((_, i) => tic.slice(0, i + 1).reduce((a, b) => a + b) >= share * total)]! / 60;
    close(metricOf(record, 'MS:4000190'), [reach(0.25), reach(0.5), reach(0.75)]);
    const fractions = metricOf(record, 'MS:4000184') as number[];
    expect(Math.abs(fractions.reduce((a, b) => a + b) - 1)).toBeLessThan(ROUNDING);
    // By counting: the k-th quarter ends at the first scan with k quarters of the scans at or before it.
    const ends = [1, 2, 3, 4].map((k) => time.find((_, i) => 4 * (i + 1) >= k * time.length)!);
    const spans = ends.map((end, k) => (end - (k === 0 ? time[0]! : ends[k - 1]!)) / (time[400]! - time[0]!));
    close(fractions, spans);
    expect(metricOf(record, 'MS:4000211')).toEqual({ 'UO:0000010': time, 'MS:1000285': tic });
    expect(metricOf(record, 'MS:4000059')).toBe(401);
    expect(metricOf(record, 'MS:4000060')).toBe(0);
  });

  it('leaves out scans without a time or a current, and values that no JSON holds', () => {
    const scans = [1, 2, 3, 4, 5, 6].map((tic, i) => ({ time_s: i, tic, summed: 10 * tic }));
    const record = madeRecord(scans);
    record.tic_stated[1] = Number.NaN;
    record.tic_summed[2] = Number.NaN;
    record.time_s[4] = Number.NaN;
    expect(metricOf(record, 'MS:4000211')).toEqual({
      'UO:0000010': [0, 1, 3, 5],
      'MS:1000285': [10, 20, 40, 60],
    });
    // By hand: 10 to 20 over 1 s, 20 to 40 over 2 s, 40 to 60 over 2 s.
    expect(metricOf(record, 'MS:4000029')).toBe(15 + 60 + 100);
    expect(metricOf(record, 'MS:4000059')).toBe(6);
    record.time_s[5] = 1.7e308;
    expect(metricOf(record, 'MS:4000029')).toBeUndefined();
    expect(JSON.stringify(psiMetrics(record))).not.toContain('null');
  });

  it('counts by hand: a fall to zero, a rise from it, exactly tenfold is neither', () => {
    const record = madeRecord([1, 10, 101, 0, 0, 5, 0.4, 4.1].map((tic, i) => ({ time_s: i, tic })));
    expect(metricOf(record, 'MS:4000097')).toBe(3);
    expect(metricOf(record, 'MS:4000098')).toBe(2);
    // Quartiles with a zero among them give no ratio.
    expect(metricOf(record, 'MS:4000131')).toBeUndefined();
  });

  it('gives no ratio where a quartile is zero and nothing at all for an empty run', () => {
    expect(
      metricOf(madeRecord([0, 0, 0, 0, 1].map((tic, i) => ({ time_s: i, tic }))), 'MS:4000187'),
    ).toBeUndefined();
    expect(psiMetrics(madeRecord([])).map((metric) => metric.value)).toEqual([0, 0]);
  });

  it('sums the peaks where a scan states no current', () => {
    const scans = [1, 2, 3, 4].map((tic, i) => ({ time_s: i, tic, summed: 2 * tic }));
    const record = madeRecord(scans);
    record.tic_stated[2] = Number.NaN;
    expect(metricOf(record, 'MS:4000211')).toEqual({
      'UO:0000010': [0, 1, 2, 3],
      'MS:1000285': [2, 4, 6, 8],
    });
  });
});

interface Quality {
  metadata: { label?: string; inputFiles: { name: string; location: string }[] };
  qualityMetrics: { accession: string }[];
  more?: number;
}
interface Document {
  runQualities: Quality[];
  controlledVocabularies: object[];
}

function document() {
  const metrics = [
    ...psiMetrics(inventedRecord()),
    ownMetric('verdict', 'keep'),
    ownMetric('usable_share', 0.98),
    ownMetric('stability', 'steady', 'steady: nothing was found.'),
  ];
  const run = { name: 'Läufe 7 %.mzML', sha256: 'a'.repeat(64), format: 'mzML' as const, metrics };
  return mzqcDocument([run, { ...run, sha256: 'b'.repeat(64), format: 'mzXML' }], {
    created: '2031-02-03T04:05:06.000Z',
    version: '0.1.0',
    description: 'Invented data: no evidence of any spray.',
  });
}

describe.skipIf(absent !== '')(`mzQC against the official schema${absent}`, () => {
  const validate = () => {
    const ajv = new Ajv({ strict: false, allErrors: true });
    addFormats(ajv);
    return ajv.compile(JSON.parse(readFileSync(join(data, 'mzqc_schema.json'), 'utf8')));
  };

  it('is valid', () => {
    const check = validate();
    check(JSON.parse(JSON.stringify(document())));
    expect(check.errors).toBeNull();
  });

  it('would not be valid without a label, with a bare path, with no metric or with a strange key', () => {
    const check = validate();
    const spoilt: ((quality: Quality) => void)[] = [
      (quality) => delete quality.metadata.label,
      (quality) => (quality.metadata.inputFiles[0]!.location = 'a b.mzML'),
      (quality) => (quality.qualityMetrics = []),
      (quality) => (quality.more = 1),
      (quality) => (quality.qualityMetrics[0]!.accession = 'ms-1'),
    ];
    for (const spoil of spoilt) {
      const copy = JSON.parse(JSON.stringify(document()));
      spoil(copy.mzQC.runQualities[0]);
      expect(check(copy)).toBe(false);
    }
  });

  it('names terms as the official examples do', () => {
    const terms = (found: unknown, into = new Map<string, string>()): Map<string, string> => {
      if (Array.isArray(found)) for (const one of found) terms(one, into);
      else if (typeof found === 'object' && found !== null) {
        const { accession, name } = found as { accession?: string; name?: string };
        if (accession !== undefined && name !== undefined) into.set(accession, name);
        for (const one of Object.values(found)) terms(one, into);
      }
      return into;
    };
    const ours = terms(document());
    const official = new Map<string, string>();
    for (const name of readdirSync(data).filter((one) => one.endsWith('.mzQC')))
      terms(JSON.parse(readFileSync(join(data, name), 'utf8')), official);
    const shared = [...ours.keys()].filter((accession) => official.has(accession)).sort();
    expect(shared).toEqual([
      'MS:1000584',
      'MS:1000799',
      'MS:1003151',
      'MS:4000059',
      'MS:4000060',
      'UO:0000189',
      'UO:0000191',
    ]);
    for (const accession of shared) expect(ours.get(accession)).toBe(official.get(accession));
  });

  it('judges the official examples as it should: one of them lacks its label', () => {
    const check = validate();
    const example = (name: string) => check(JSON.parse(readFileSync(join(data, name), 'utf8')));
    expect(example('intro_run.mzQC')).toBe(true);
    expect(example('example_qc2_longitudinal.mzQC')).toBe(false);
  });
});

describe('the document', () => {
  it('is plain JSON, declares every vocabulary it uses and names each file once', () => {
    const { mzQC } = document() as { mzQC: Document };
    expect(jsonFault(mzQC)).toBeUndefined();
    const used = new Set<string>(
      [...JSON.stringify(mzQC).matchAll(/"accession":"([A-Z]+):/g)].map((match) => match[1]!),
    );
    expect([...used].sort()).toEqual(['MS', 'STEADYCONE', 'UO']);
    expect(mzQC.controlledVocabularies).toHaveLength(3);
    const names = mzQC.runQualities.map((quality) => quality.metadata.inputFiles[0]!.name);
    expect(names).toEqual(['Läufe 7 %.mzML', 'Läufe 7 %.mzML (bbbbbbbb)']);
  });

  it('gives every own term an accession of its own, in the form the format wants', () => {
    const all = Object.values(ownTerms).map((term) => term.accession);
    expect(new Set(all).size).toBe(all.length);
    for (const accession of all) expect(accession).toMatch(/^[A-Z]+:[A-Z0-9]+$/);
  });
});
