import {
  appendFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { methodSetupText, runWithPressure } from '../../../test/kit/made-method.ts';
import { InputError } from '../../core/errors.ts';
import { queueReport } from '../../evidence/queue/index.ts';
import { stepsFrom } from '../../evidence/walk-steps.ts';
import { inventedRun } from '../../rehearsal/index.ts';
import { type Bench, openBench } from '../bench.ts';
import { setupFromText } from '../setup-file.ts';
import { runFilesOf } from './list-files.ts';
import { maker } from './maker.ts';
import { queueExport } from './queue-export.ts';
import type { ReadFile } from './queue-file.ts';
import { readQueue } from './read-queue.ts';
import { runStartIn } from './run-start.ts';
import { storedQueue } from './stored-queue.ts';
import { watchFolder } from './watch.ts';

const folders: string[] = [];
const benches: Bench[] = [];

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-queue-'));
  folders.push(folder);
  return folder;
}

async function newBench(folder = newFolder()): Promise<Bench> {
  const bench = await openBench(folder, { now: () => new Date('2031-02-04T08:00:00Z') });
  benches.push(bench);
  return bench;
}

afterEach(async () => {
  for (const bench of benches.splice(0)) await bench.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** Times on whole seconds, since not every disk keeps parts of one. */
const NIGHT = Date.UTC(2031, 1, 3, 20) / 1000;

function text(seed: number, scatter = 0.05): string {
  return [...inventedRun({ seed, length_min: 2, faults: 'none', scatter })].join('');
}

function write(folder: string, number: number, content: string | Uint8Array = text(number)): string {
  const path = join(folder, `run_${number}.mzML`);
  writeFileSync(path, content);
  utimesSync(path, NIGHT + 600 * number, NIGHT + 600 * number);
  return path;
}

describe('reading a queue', () => {
  it('gives one line for what is no run and reads the rest, in order of time', async () => {
    const folder = newFolder();
    write(folder, 10);
    write(folder, 2);
    write(folder, 3, 'hello');
    writeFileSync(join(folder, 'read-me.txt'), 'no run');
    mkdirSync(join(folder, 'sub.mzML'));
    const paths = await runFilesOf(folder);
    expect(paths.map((path) => path.slice(folder.length + 1))).toEqual([
      'run_2.mzML',
      'run_3.mzML',
      'run_10.mzML',
      'sub.mzML',
    ]);
    const ended: string[] = [];
    const { files, left } = await readQueue(paths, { onFile: (file) => ended.push(file.name) });
    expect(left).toBe(0);
    expect(ended).toHaveLength(4);
    const report = queueReport(files);
    expect(report.counts.not_read).toBe(2);
    expect(report.files.find((file) => file.name === 'run_3.mzML')?.refusal).toMatch(/^invalid run file/);
    const two = report.files.find((file) => file.name === 'run_2.mzML')!;
    // The file's own time is the run's end; the run lasts two minutes less one scan.
    expect(Date.parse(two.began!) / 1000).toBeGreaterThan(NIGHT + 1200 - 125);
    expect(Date.parse(two.began!) / 1000).toBeLessThan(NIGHT + 1200 - 110);
    expect(two.began_from).toBe('file');
  });

  it('goes on where it was stopped, and reads nothing twice', async () => {
    const folder = newFolder();
    for (const number of [1, 2, 3, 4]) write(folder, number);
    const paths = await runFilesOf(folder);
    const bench = await newBench();
    const stop = new AbortController();
    const first = await readQueue(paths, {
      bench,
      label: 'tip 7',
      signal: stop.signal,
      onFile: (file) => {
        if (file.name === 'run_2.mzML') stop.abort();
      },
    });
    expect([first.files.length, first.left]).toEqual([2, 2]);
    const again = await readQueue(paths, { bench, label: 'tip 7' });
    expect(again.files.map((file) => file.cached)).toEqual([true, true, false, false]);
    const third = await readQueue(paths, { bench, label: 'tip 7' });
    expect(third.files.every((file) => file.cached)).toBe(true);
    const plain = (file: ReadFile) => ({ ...file, cached: false });
    expect(third.files.map(plain)).toEqual(JSON.parse(JSON.stringify(again.files.map(plain))));
    expect(await bench.list({ kind: 'reading' })).toHaveLength(4);
  });

  it('shows the stored queue as it was read, refusals among it', async () => {
    const folder = newFolder();
    for (const number of [1, 2]) write(folder, number);
    write(folder, 3, 'hello');
    write(folder, 4, text(1));
    const bench = await newBench();
    const { files } = await readQueue(await runFilesOf(folder), { bench, label: 'tip 7' });
    expect(files.map((file) => file.same_as)).toEqual([null, null, null, 'run_1.mzML']);
    const { report, alert } = await storedQueue(bench, 'tip 7');
    expect(alert).toBeNull();
    const read = queueReport(
      files.filter((file) => file.same_as === null),
      { label: 'tip 7' },
    );
    const plain = (one: typeof report) =>
      one.files.map(({ name, sha256, began, summary, refusal }) => ({
        name,
        sha256,
        began,
        summary,
        refusal,
      }));
    expect(plain(report)).toEqual(JSON.parse(JSON.stringify(plain(read))));
    expect(report.sentences).toEqual(read.sentences);
    for (const as of ['csv', 'svg', 'html', 'mzqc']) {
      expect((await queueExport(bench, 'tip 7', as)).text.length).toBeGreaterThan(200);
    }
    await expect(queueExport(bench, 'tip 7', 'pdf')).rejects.toThrow('unknown kind of file: pdf');
    await expect(storedQueue(bench, 'tip 8')).rejects.toThrow('unknown queue: "tip 8"');
  });

  it('reads again what other code read', async () => {
    const folder = newFolder();
    write(folder, 1);
    const bench = await newBench();
    const { files } = await readQueue(await runFilesOf(folder), { bench, label: 'a' });
    expect(maker()).toMatch(/^[0-9a-f]{16}$/);
    expect(await bench.store.shortOf(files[0]!.sha256!, maker())).toBeDefined();
    expect(await bench.store.shortOf(files[0]!.sha256!, 'other code')).toBeUndefined();
  });

  it('leaves out what it is told to, and keeps such readings apart', async () => {
    const folder = newFolder();
    write(folder, 1);
    const bench = await newBench();
    const paths = await runFilesOf(folder);
    const whole = await readQueue(paths, { bench, label: 'a' });
    const mask = [{ start_s: 60, end_s: 120 }];
    const half = await readQueue(paths, { bench, label: 'a', mask });
    expect(half.files[0]!.cached).toBe(false);
    expect(half.files[0]!.summary!.kept.every((piece) => piece.end_s <= 60)).toBe(true);
    expect(whole.files[0]!.summary!.kept.some((piece) => piece.end_s > 100)).toBe(true);
    expect((await readQueue(paths, { bench, label: 'a', mask })).files[0]!.cached).toBe(true);
  });

  it('reads every file with a set-up, and keeps such readings apart from those by another flow', async () => {
    const folder = newFolder();
    const { text: run } = runWithPressure(7);
    write(folder, 1, run);
    const bench = await newBench();
    const paths = await runFilesOf(folder);
    const setup = setupFromText(methodSetupText);
    const whole = await readQueue(paths, { bench, label: 'a' });
    const judged = await readQueue(paths, { bench, label: 'a', setup });
    expect(judged.files[0]!.cached).toBe(false);
    const wash_s = 485;
    expect(
      judged.files[0]!.summary!.kept.every(({ start_s, end_s }) => start_s >= 59 && end_s <= wash_s),
    ).toBe(true);
    expect(whole.files[0]!.summary!.kept.some(({ end_s }) => end_s > wash_s)).toBe(true);
    expect((await readQueue(paths, { bench, label: 'a', setup })).files[0]!.cached).toBe(true);
    const other = { ...setup, feed: { kind: 'pumped' as const, flow_nL_min: 500 } };
    expect((await readQueue(paths, { bench, label: 'a', setup: other })).files[0]!.cached).toBe(false);
    // The queue that is shown rests on the reading made last.
    const { report } = await storedQueue(bench, 'a');
    expect(report.files).toHaveLength(1);
    expect(report.files[0]!.summary!.kept.every(({ end_s }) => end_s <= wash_s)).toBe(true);
  });

  it('tells the time left and counts every byte', async () => {
    const folder = newFolder();
    for (const number of [1, 2]) write(folder, number);
    let now = 0;
    const told: { bytes_done: number; seconds_left: number | null }[] = [];
    await readQueue(await runFilesOf(folder), {
      clock: () => {
        now += 1000;
        return now;
      },
      onProgress: (progress) => told.push({ ...progress }),
    });
    expect(told[0]).toMatchObject({ bytes_done: 0, seconds_left: null });
    expect(told.at(-1)!.seconds_left).toBe(0);
    expect(told.at(-1)!.bytes_done).toBe(
      readFileSync(join(folder, 'run_1.mzML')).length + readFileSync(join(folder, 'run_2.mzML')).length,
    );
  });

  it('refuses what is no folder', async () => {
    const folder = newFolder();
    await expect(runFilesOf(join(folder, 'none'))).rejects.toThrow(/^missing folder: /);
    await expect(runFilesOf(write(folder, 1))).rejects.toThrow(/^invalid folder: .*a file/);
  });
});

describe('watching', () => {
  interface Heard {
    files: string[];
    alerts: string[];
    trouble: (string | undefined)[];
  }
  function watched(folder: string, bench?: Bench, baseline_files = 6) {
    const heard: Heard = { files: [], alerts: [], trouble: [] };
    const watch = watchFolder(folder, {
      bench,
      label: 'tip 7',
      baseline_files,
      settle_s: 30,
      rest_s: 600,
      onFile: (file) => heard.files.push(`${file.name} ${file.summary?.grade ?? 'not read'}`),
      onAlert: (sentence) => {
        heard.alerts.push(sentence);
      },
      onTrouble: (reason) => heard.trouble.push(reason),
    });
    return { watch, heard };
  }
  const at = (seconds: number) => 1000 * (NIGHT + seconds);

  it('waits for a file to stop growing, and for a half-written one to be finished', async () => {
    const folder = newFolder();
    const { watch, heard } = watched(folder);
    const whole = text(1);
    const path = write(folder, 0, whole.slice(0, whole.length / 3));
    utimesSync(path, NIGHT, NIGHT);
    expect(await watch.look(at(10))).toBe(1);
    appendFileSync(path, whole.slice(whole.length / 3, whole.length / 2));
    utimesSync(path, NIGHT + 20, NIGHT + 20);
    expect(await watch.look(at(40))).toBe(1);
    // Still for 30 s and half: read, found to break off, and left for later.
    expect(await watch.look(at(75))).toBe(1);
    expect(heard.files).toEqual([]);
    appendFileSync(path, whole.slice(whole.length / 2));
    utimesSync(path, NIGHT + 100, NIGHT + 100);
    expect(await watch.look(at(110))).toBe(1);
    expect(await watch.look(at(145))).toBe(0);
    expect(heard.files).toEqual(['run_0.mzML keep']);
    expect(await watch.look(at(300))).toBe(0);
    expect(heard.files).toHaveLength(1);
  });

  it('tells a file that stays broken once it has rested long enough', async () => {
    const folder = newFolder();
    const { watch, heard } = watched(folder);
    const path = write(folder, 0, text(1).slice(0, 100_000));
    utimesSync(path, NIGHT, NIGHT);
    expect(await watch.look(at(60))).toBe(1);
    expect(await watch.look(at(500))).toBe(1);
    expect(await watch.look(at(601))).toBe(0);
    expect(heard.files).toHaveLength(1);
  });

  it('raises one alert for a label, also over a restart, and tells no file twice', async () => {
    const folder = newFolder();
    const home = newFolder();
    const bench = await newBench(home);
    const first = watched(folder, bench);
    for (let number = 1; number <= 6; number++) write(folder, number);
    for (let number = 7; number <= 12; number++) write(folder, number, text(number, 0.16));
    await first.watch.look(at(20_000));
    expect(first.heard.files).toHaveLength(12);
    expect(first.heard.alerts).toHaveLength(1);
    expect(first.heard.alerts[0]).toMatch(/^Early warning at run_\d+\.mzML .*scatter keeps rising/);
    await bench.close();
    const again = watched(folder, await newBench(home));
    write(folder, 13, text(13, 0.16));
    await again.watch.look(at(30_000));
    expect(again.heard).toEqual({ files: [expect.stringMatching(/^run_13/)], alerts: [], trouble: [] });
    expect((await storedQueue(benches.at(-1)!, 'tip 7')).alert?.sentence).toBe(first.heard.alerts[0]);
  });

  it('survives a folder that goes away and comes back', async () => {
    const folder = newFolder();
    const inside = join(folder, 'share');
    mkdirSync(inside);
    write(inside, 1);
    const { watch, heard } = watched(inside);
    renameSync(inside, `${inside}-gone`);
    expect(await watch.look(at(9000))).toBe(0);
    expect(await watch.look(at(9015))).toBe(0);
    renameSync(`${inside}-gone`, inside);
    await watch.look(at(9030));
    expect(heard.trouble).toEqual([expect.stringMatching(/^missing folder/), undefined]);
    expect(heard.files).toEqual(['run_1.mzML keep']);
  });
});

describe('what stands beside a run', () => {
  it('finds when it began, plain and gzipped', () => {
    const head =
      '<?xml version="1.0"?><mzML><run id="r" startTimeStamp="2031-02-03T20:00:00Z" defaultInstrumentConfigurationRef="i">';
    expect(runStartIn(Buffer.from(head))).toBe('2031-02-03T20:00:00.000Z');
    expect(runStartIn(gzipSync(head))).toBe('2031-02-03T20:00:00.000Z');
    expect(runStartIn(gzipSync(head.padEnd(9000)).subarray(0, 180))).toBe('2031-02-03T20:00:00.000Z');
    expect(runStartIn(Buffer.from('<run startTimeStamp="soon, my friend">'))).toBeNull();
    expect(runStartIn(Buffer.from(''))).toBeNull();
  });

  it('reads the steps of a walk', () => {
    const steps = [
      { time_s: 0, voltage_V: 1000 },
      { time_s: 90, voltage_V: 1050 },
    ];
    expect(stepsFrom('\ufefftime_min,voltage_V\r\n# up\r\n0,1000\r\n1.5,1050\r\n', 's.csv')).toEqual(steps);
    expect(stepsFrom('note;voltage_V;time_min\na;-1000;0\nb;1050;1,5\n', 's.csv')).toEqual(steps);
  });

  it.each([
    ['', 'missing steps: s.csv is empty'],
    ['time_min,voltage_V\n', 'missing steps: s.csv;'],
    ['time,volt\n1,2\n', 'missing column: s.csv, line 1: time, volt'],
    ['time_min,voltage_V\n1,5,1000\n', 'invalid s.csv, line 2: 3 cells'],
    ['time_min,voltage_V\nx,1000\n', 'invalid s.csv, line 2, time_min: x'],
    ['time_min,voltage_V\n1,9000\n', 'out of range s.csv, line 2, voltage_V: 9000'],
    ['time_min,voltage_V\n1,\n', 'invalid s.csv, line 2, voltage_V'],
  ])('refuses steps %#', (text_, message) => {
    expect(() => stepsFrom(text_, 's.csv')).toThrow(InputError);
    expect(() => stepsFrom(text_, 's.csv')).toThrow(message);
  });
});
