import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { planFor } from '../core/plan/index.ts';
import { inventedRun } from '../rehearsal/index.ts';
import {
  type Bench,
  type BenchOptions,
  benchFolder,
  ensureDemoBench,
  fileName,
  keptReadingFile,
  loadSetupFile,
  openBench,
  packagePath,
  planAndKeep,
  readRunAndKeep,
  readRunStreamAndKeep,
  setupFromText,
  startingSetup,
  version,
} from './index.ts';

const folders: string[] = [];
const benches: Bench[] = [];

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-app-'));
  folders.push(folder);
  return folder;
}

async function newBench(folder = newFolder(), options: BenchOptions = {}): Promise<Bench> {
  const bench = await openBench(folder, { now: () => new Date('2031-02-03T04:05:06Z'), ...options });
  benches.push(bench);
  return bench;
}

afterEach(async () => {
  for (const bench of benches.splice(0)) await bench.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

function runFile(folder: string, name = 'night-1.mzML'): string {
  const path = join(folder, name);
  writeFileSync(path, [...inventedRun({ seed: 7, length_min: 5 })].join(''));
  return path;
}

describe('the bench folder', () => {
  it('is STEADYCONE_HOME, else .steadycone at home', () => {
    expect(benchFolder({ STEADYCONE_HOME: 'some/where' })).toBe(resolve('some/where'));
    expect(benchFolder({ STEADYCONE_HOME: '' })).toMatch(/[/\\]\.steadycone$/);
    expect(benchFolder({})).toMatch(/[/\\]\.steadycone$/);
  });
});

describe('a set-up file', () => {
  it('is read as YAML and as JSON', async () => {
    const folder = newFolder();
    const setup = setupFromText(startingSetup());
    writeFileSync(join(folder, 'a.yaml'), `\ufeff${startingSetup()}`);
    writeFileSync(join(folder, 'b.json'), JSON.stringify(setup));
    expect(await loadSetupFile(join(folder, 'a.yaml'))).toEqual(setup);
    expect(await loadSetupFile(join(folder, 'b.json'))).toEqual(setup);
  });

  it.each([
    [
      'emitter: {bore_um: 10\nliquid: [',
      /^invalid set-up document: line \d+, column \d+, .*; expected YAML or JSON$/,
    ],
    ['{"emitter": {"bore_um": }}\n}', /^invalid set-up document: line \d+, /],
    ['a: 1\na: 2\n', /^invalid set-up document: line 2, column 1, "a" stands there twice/],
    ['', /set-up/],
    ['- 1\n- 2', /set-up/],
    [multiplying(9), /^invalid set-up document: Excessive alias count/],
    ['['.repeat(20_000), /^invalid set-up document: /],
  ])('refuses wrong text %# in the house grammar', (text, message) => {
    expect(() => setupFromText(text)).toThrow(message);
    expect(() => setupFromText(text)).toThrow(expect.objectContaining({ name: 'InputError' }));
  });

  it('refuses what is missing, too large, a folder or not text', async () => {
    const folder = newFolder();
    const big = join(folder, 'big.yaml');
    writeFileSync(big, '#'.repeat(1024 * 1024 + 1));
    await expect(loadSetupFile(big)).rejects.toThrow(
      'out of range set-up file: big.yaml, more than 1 MB; expected at most 1 MB',
    );
    truncateSync(big, 1024 * 1024);
    await expect(loadSetupFile(big)).rejects.toThrow(/set-up/);
    await expect(loadSetupFile(join(folder, 'none.yaml'))).rejects.toThrow(
      /^missing set-up file: .*none\.yaml; expected/,
    );
    await expect(loadSetupFile(folder)).rejects.toThrow(/^invalid set-up file: .*, a folder; expected/);
    writeFileSync(join(folder, 'latin.yaml'), Buffer.from([0x6e, 0x3a, 0x20, 0xb5]));
    await expect(loadSetupFile(join(folder, 'latin.yaml'))).rejects.toThrow('not UTF-8 text');
  });
});

/** Each line refers nine times to the one before it. */
function multiplying(lines: number): string {
  const nine = (word: string) => `[${Array(9).fill(word).join(',')}]`;
  return Array.from({ length: lines }, (_, i) => `k${i}: &k${i} ${nine(i === 0 ? '1' : `*k${i - 1}`)}`).join(
    '\n',
  );
}

describe('planning', () => {
  it('keeps emitter, set-up and plan once', async () => {
    const bench = await newBench();
    const setup = setupFromText(startingSetup());
    const kept = await planAndKeep(bench, setup, ' night shift ');
    expect(kept).toEqual({
      setup_id: 'setup-1',
      emitter_id: 'emitter-1',
      plan_id: 'plan-1',
      plan: planFor(setup),
    });
    expect(await planAndKeep(bench, setup, 'late shift')).toMatchObject({
      setup_id: 'setup-1',
      plan_id: 'plan-1',
    });
    const items = await bench.list();
    expect(items).toHaveLength(3);
    for (const item of items) {
      expect(item).toMatchObject({
        who: 'night shift',
        version: version(),
        when: '2031-02-03T04:05:06.000Z',
        invented: false,
      });
    }
    expect((await bench.show('plan-1')).document).toEqual(JSON.parse(JSON.stringify(kept.plan)));
  });
});

describe('reading a run', () => {
  it('keeps run and reading once, with the name but no folders', async () => {
    const bench = await newBench();
    const folder = newFolder();
    const path = runFile(folder);
    let progress = 0;
    const onProgress = () => {
      progress++;
    };
    const kept = await readRunAndKeep(bench, path, { who: 'night shift', onProgress });
    const bytes = readFileSync(path);
    expect(progress).toBeGreaterThan(0);
    expect(kept).toMatchObject({
      sha256: createHash('sha256').update(bytes).digest('hex'),
      bytes: bytes.length,
      run_id: 'run-1',
      reading_id: 'reading-1',
    });
    expect(kept.reading.ms1_count).toBeGreaterThan(100);
    expect((await bench.show('run-1')).document).toEqual({
      sha256: kept.sha256,
      name: 'night-1.mzML',
      bytes: bytes.length,
      format: 'mzML',
      ms1_count: kept.reading.ms1_count,
    });
    expect((await bench.show('reading-1')).document).toEqual(JSON.parse(JSON.stringify(kept.reading)));
    expect((await bench.show('run-1')).item.invented).toBe(true);
    expect(JSON.stringify(await bench.exportAll())).not.toContain(folder.split(/[/\\]/).at(-1));
    const again = await readRunAndKeep(bench, path);
    expect(again).toMatchObject({ run_id: 'run-1', reading_id: 'reading-1' });
    expect(await bench.list()).toHaveLength(2);
    const { text: csv } = await keptReadingFile(bench, 'reading-1.csv');
    expect(csv.split('\n').length).toBeGreaterThan(kept.reading.ms1_count);
    await expect(keptReadingFile(bench, 'run-1.csv')).rejects.toThrow('invalid reading: "run-1"');
  });

  it('works without a bench', async () => {
    const kept = await readRunAndKeep(undefined, runFile(newFolder()));
    expect(Object.keys(kept).sort()).toEqual(['bytes', 'reading', 'sha256']);
  });

  it('keeps what stands before the cut of a truncated file', async () => {
    const bench = await newBench();
    const path = runFile(newFolder());
    truncateSync(path, Math.floor(readFileSync(path).length / 2));
    const kept = await readRunAndKeep(bench, path);
    expect(kept.reading.broken?.byte).toBeGreaterThan(0);
    expect(kept.reading_id).toBe('reading-1');
  });

  it('reads a stream as it reads the file', async () => {
    const bench = await newBench();
    const path = runFile(newFolder());
    const fromFile = await readRunAndKeep(undefined, path);
    const bytes = readFileSync(path);
    async function* pieces() {
      for (let at = 0; at < bytes.length; at += 65_537) yield bytes.subarray(at, at + 65_537);
    }
    const kept = await readRunStreamAndKeep(bench, pieces(), 'C:\\runs\\night-1.mzML');
    expect(kept.reading).toEqual(fromFile.reading);
    expect(kept.sha256).toBe(fromFile.sha256);
    expect((await bench.show('run-1')).item.title).toBe('night-1.mzML');
  });

  it('stores nothing of a stream that fails', async () => {
    const bench = await newBench();
    const bytes = readFileSync(runFile(newFolder()));
    async function* pieces() {
      yield bytes.subarray(0, Math.floor(bytes.length / 2));
      throw new Error('connection lost');
    }
    await expect(readRunStreamAndKeep(bench, pieces(), 'night-1.mzML')).rejects.toThrow('connection lost');
    expect(await bench.list()).toEqual([]);
  });

  it('refuses a file that is not there or no run', async () => {
    const folder = newFolder();
    await expect(readRunAndKeep(undefined, join(folder, 'none.mzML'))).rejects.toThrow(/^missing run file: /);
    mkdirSync(join(folder, 'sub'));
    await expect(readRunAndKeep(undefined, join(folder, 'sub'))).rejects.toThrow(
      /^invalid run file: .*a folder/,
    );
    writeFileSync(join(folder, 'text.mzML'), 'hello');
    await expect(readRunAndKeep(undefined, join(folder, 'text.mzML'))).rejects.toThrow(
      expect.objectContaining({ name: 'InputError' }),
    );
  });

  it.each([
    ['/a/b/run.mzML', 'run.mzML'],
    ['C:\\a\\run.mzML', 'run.mzML'],
    ['..\\..', '..'],
    ['x\u001b[31m\n.mzML', 'x [31m .mzML'],
    ['a/', ''],
  ])('takes the name of %j as %j', (path, name) => {
    expect(fileName(path)).toBe(name);
  });
});

describe('the demo bench', () => {
  it('is put in once, marked invented, and found again', async () => {
    const folder = newFolder();
    const bench = await newBench(folder);
    const first = await ensureDemoBench(bench);
    expect(first.created).toBe(true);
    expect(first.setup).toEqual(await loadSetupFile(packagePath('examples/gradient-proteomics.yaml')));
    expect(first.reading.events.length).toBeGreaterThan(0);
    const items = await bench.list();
    expect(items.map((item) => item.kind).sort()).toEqual([
      'emitter',
      'note',
      'plan',
      'reading',
      'run',
      'setup',
    ]);
    expect(items.every((item) => item.invented)).toBe(true);
    await bench.close();
    const again = await ensureDemoBench(await newBench(folder));
    expect(again).toEqual({ ...JSON.parse(JSON.stringify(first)), created: false });
    expect(await benches.at(-1)?.list()).toHaveLength(6);
  });

  it('is computed again by another version and keeps what is there', async () => {
    const folder = newFolder();
    const before = await ensureDemoBench(await newBench(folder, { version: '0.0.1' }));
    await benches.at(-1)?.close();
    const bench = await newBench(folder);
    const after = await ensureDemoBench(bench);
    expect(after.created).toBe(false);
    expect(after.reading_id).not.toBe(before.reading_id);
    expect(after.run_id).toBe(before.run_id);
    expect(await bench.list({ kind: 'note' })).toHaveLength(1);
    expect((await ensureDemoBench(bench)).reading_id).toBe(after.reading_id);
  });

  it('leaves a real entry of the same content real', async () => {
    const bench = await newBench();
    const setup = await loadSetupFile(packagePath('examples/gradient-proteomics.yaml'));
    const mine = await planAndKeep(bench, setup, 'night shift');
    const demo = await ensureDemoBench(bench);
    expect(demo.setup_id).not.toBe(mine.setup_id);
    expect((await bench.show(mine.setup_id)).item.invented).toBe(false);
  });
});

describe('notes', () => {
  it('are dated and come back with their subject', async () => {
    const bench = await newBench();
    await planAndKeep(bench, setupFromText(startingSetup()));
    const note = await bench.note({ on: 'emitter-1', text: 'new tip', who: 'night shift' });
    expect(note).toMatchObject({
      id: 'note-1',
      on: 'emitter-1',
      title: 'new tip',
      who: 'night shift',
      invented: false,
    });
    expect((await bench.show('emitter-1')).related).toContainEqual(note);
  });
});
