import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { inventedRun } from '../rehearsal/index.ts';
import { explainKept, explainSession, keepExplainLog, openBench, readQueue, runFilesOf } from './index.ts';

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

async function night() {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-explain-'));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const bench = await openBench(join(folder, 'bench'), { now: () => new Date('2031-02-03T04:05:06Z') });
  ends.push(() => bench.close());
  const runs = join(folder, 'runs');
  mkdirSync(runs);
  for (const seed of [1, 2, 3, 4, 5]) {
    const path = join(runs, `run_${seed}.mzML`);
    writeFileSync(
      path,
      [...inventedRun({ seed, length_min: 3, faults: seed === 5 ? 'planted' : 'none' })].join(''),
    );
    utimesSync(path, 2e9 + 600 * seed, 2e9 + 600 * seed);
  }
  await readQueue(await runFilesOf(runs), { bench, label: 'tip 7' });
  const readings = (await bench.list({ kind: 'reading' })).reverse();
  const last = readings.at(-1)!.id;
  return { bench, runs, last, path: join(runs, 'run_5.mzML') };
}

describe('explaining', () => {
  it('finds the earlier runs of the emitter by the queue that holds the run', async () => {
    const { bench, last } = await night();
    const { document } = await bench.show((await bench.show(last)).item.on!);
    const explained = await explainKept(bench, { reading_id: last });
    expect(explained).toMatchObject({
      reading_id: last,
      file: (document as { name: string }).name,
      emitter: 'tip 7',
      earlier_runs: 4,
      invented: true,
    });
    expect(explained.findings.map(({ observable }) => observable)).toContain('level');
    expect(explained.findings.find(({ observable }) => observable === 'age')?.sentence).toContain('run 5');
  });

  it('explains a file like its kept reading, and adds answers without reading it again', async () => {
    const { bench, last, path, runs } = await night();
    const kept = await explainKept(bench, { reading_id: last });
    const session = await explainSession(bench, { file: path });
    expect(session([], []).ranked).toEqual(kept.ranked);
    rmSync(runs, { recursive: true });
    const more = session([{ observable: 'pressure', outcome: 'rising' }], ['meniscus']);
    expect(more.observations.map(({ observable }) => observable)).toContain('pressure');
    expect(more.next.map(({ observable }) => observable)).not.toContain('meniscus');
  });

  it('explains a real run, packaged with a development dependency, without pretending', async () => {
    const file = join(import.meta.dirname, '../../node_modules/mzdata/src/mzxml/lcMsMs.mzXML');
    const explained = (await explainSession(undefined, { file }))([], []);
    expect(explained).toMatchObject({ file: 'lcMsMs.mzXML', invented: false, emitter: null });
    expect(explained.findings.find(({ observable }) => observable === 'trend')?.sentence).toContain(
      'the fall at',
    );
    expect(explained.ranked.decided).toBe(false);
    expect(explained.ranked.sentence).toContain('Cannot be decided from this');
    expect(explained.inference).toContain('inferences');
  });

  it('needs no bench for answers alone', async () => {
    const explained = await explainKept(undefined, { answers: [{ observable: 'tissue', outcome: 'spot' }] });
    expect(explained).toMatchObject({ reading_id: null, file: null, emitter: null, findings: [] });
    expect(explained.ranked.causes[0]?.fault).toBe('leak-after-column');
  });

  it('keeps what was done as notes on the reading, long logs as several', async () => {
    const { bench, last } = await night();
    const lines = Array.from(
      { length: 30 },
      (_, i) => `${i}: ${'looked at the union, dry. '.repeat(6).trim()}`,
    );
    const kept = await keepExplainLog(bench, { on: last, lines, who: 'ab' });
    expect(kept.length).toBeGreaterThan(1);
    const texts = await Promise.all(
      kept.map(async ({ id }) => ((await bench.show(id)).document as { text: string }).text),
    );
    expect(texts.join('\n')).toBe(lines.join('\n'));
    expect(kept[0]).toMatchObject({ on: last, who: 'ab', invented: true });
  });

  it('refuses what is not there in one line', async () => {
    const { bench, last, path } = await night();
    const run = (await bench.show(last)).item.on!;
    await expect(explainKept(bench, { reading_id: 'reading-99' })).rejects.toThrow(/unknown bench item/);
    await expect(explainKept(bench, { reading_id: run })).rejects.toThrow(/invalid reading: "run-/);
    await expect(explainKept(bench, { emitter: 'nobody' })).rejects.toThrow(/unknown queue: "nobody"/);
    await expect(explainKept(undefined, { reading_id: last })).rejects.toThrow(/missing bench/);
    await expect(explainSession(bench, { file: path, reading_id: last })).rejects.toThrow(/not both/);
  });
});
