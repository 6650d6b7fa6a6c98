/**
 * One run, read by the command line and shown by the page's addresses from the same bench: JSON, CSV, SVG, HTML and mzQC say the
 * same numbers, and both mzQC files are valid where the official schema is at hand.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBench } from '../../src/app/index.ts';
import type { RunReading } from '../../src/evidence/index.ts';
import { inventedRun } from '../../src/rehearsal/index.ts';
import { buildServer } from '../../src/server/index.ts';
import { type CommandResult, commandAlone, commandHere } from '../kit/built-command.ts';

const root = join(import.meta.dirname, '..', '..');
const schema = join(root, '../shared/data/mzqc/mzqc_schema.json');
const absent = existsSync(schema) ? '' : ' (SKIPPED: the official schema is absent on this machine)';
const home = mkdtempSync(join(tmpdir(), 'steadycone-reports-'));
const bench = join(home, 'bench');
const run = join(home, 'run 1.mzML');
/** A start of the program and four readings on a busy machine. */
const STARTS_MS = 240_000;
const KINDS = ['svg', 'html', 'mzqc'] as const;
const file = (kind: string) => join(home, `report.${kind}`);

const cli: Record<string, string> = {};
const page: Record<string, string> = {};
let shown: RunReading;

/** Times of making differ between two reports of one reading. */
const undated = (text: string) => text.replaceAll(/\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}[:.\dZ]*/g, '');

function told({ code, out, err }: CommandResult): string {
  expect(code, err).toBe(0);
  return out;
}

beforeAll(async () => {
  writeFileSync(run, [...inventedRun({ seed: 11, length_min: 8 })].join(''));
  const place = { home: bench };
  cli.text = told(commandAlone(['read', run, ...KINDS.flatMap((kind) => [`--${kind}`, file(kind)])], place));
  for (const kind of KINDS) cli[kind] = readFileSync(file(kind), 'utf8');
  cli.json = told(await commandHere(['read', run, '--json', '--no-keep'], place));
  cli.csv = told(await commandHere(['read', run, '--csv', '--no-keep'], place));
  const webRoot = join(home, 'web');
  mkdirSync(webRoot);
  writeFileSync(join(webRoot, 'index.html'), '<!doctype html><title>page</title>');
  const opened = await openBench(bench);
  const app = await buildServer({ bench: opened, webRoot });
  const headers = { host: '127.0.0.1:4747' };
  for (const kind of ['csv', ...KINDS]) {
    const reply = await app.inject({ url: `/api/readings/reading-1.${kind}`, headers });
    expect(reply.statusCode).toBe(200);
    page[kind] = reply.body;
  }
  shown = (await app.inject({ url: '/api/bench/reading-1', headers })).json().document;
  await app.close();
  await opened.close();
}, STARTS_MS);
afterAll(() => rmSync(home, { recursive: true, force: true }));

interface Metric {
  accession: string;
  value: unknown;
}
const metricsOf = (text: string): Metric[] => JSON.parse(text).mzQC.runQualities[0].qualityMetrics;

describe('the reports of one run', () => {
  it('are the same from the command line and from the page', () => {
    const { file: _file, sha256: _sha256, bytes: _bytes, ...reading } = JSON.parse(cli.json!);
    expect(reading).toEqual(shown);
    expect(page.csv).toBe(cli.csv);
    expect(page.svg).toBe(cli.svg);
    expect(undated(page.html!)).toBe(undated(cli.html!));
  });

  it('hold the same metrics as mzQC; the page leaves out the table of all scans', () => {
    const [ofCli, ofPage] = [metricsOf(cli.mzqc!), metricsOf(page.mzqc!)];
    expect(ofPage).toEqual(ofCli.filter(({ accession }) => accession !== 'MS:4000211'));
    expect(ofCli.length).toBe(ofPage.length + 1);
    const value = (accession: string) => ofCli.find((metric) => metric.accession === accession)?.value;
    expect(value('MS:4000059')).toBe(shown.ms1_count);
    const table = value('MS:4000211') as Record<string, number[]>;
    expect(table['UO:0000010']).toHaveLength(shown.ms1_count);
  });

  it('tell the figures of the JSON: scans, verdict, events, level of each scan', () => {
    const { ms1_count, verdict, events, groups } = shown;
    expect(events.length).toBeGreaterThan(0);
    for (const text of [cli.text!, cli.html!]) expect(text).toContain(verdict.sentence);
    expect(cli.text).toContain(`Read: mzML, ${ms1_count} MS1 scans.`);
    const rows = cli.csv!.trimEnd().split('\r\n').slice(1);
    expect(rows).toHaveLength(groups.reduce((count, group) => count + group.series.time_s.length, 0));
    expect(rows.map((row) => Number(row.split(',')[0]))).toEqual(
      groups.flatMap(({ series }) => series.time_s),
    );
    for (const text of Object.values({ ...cli, ...page })) expect(text).not.toMatch(/\bNaN\b|\bundefined\b/);
    expect(cli.svg).toMatch(/^<svg[\s\S]*<\/svg>\s*$/);
  });
});

describe.skipIf(absent !== '')(`mzQC from the command line and from the page${absent}`, () => {
  it('is valid by the official schema', () => {
    const ajv = new Ajv({ strict: false, allErrors: true });
    addFormats(ajv);
    const check = ajv.compile(JSON.parse(readFileSync(schema, 'utf8')));
    for (const text of [cli.mzqc!, page.mzqc!]) {
      check(JSON.parse(text));
      expect(check.errors).toBeNull();
    }
  });
});
