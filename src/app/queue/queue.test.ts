import {
  appendFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { methodSetupText, runWithPressure } from '../../../test/kit/made-method.ts';
import { InputError, inputError } from '../../core/errors.ts';
import { queueReport } from '../../evidence/queue/index.ts';
import { stepsFrom } from '../../evidence/walk-steps.ts';
import { inventedRun } from '../../rehearsal/index.ts';
import { type Bench, openBench } from '../bench.ts';
import { readRunAndKeep } from '../read-and-keep.ts';
import { setupFromText } from '../setup-file.ts';
import { runFilesOf } from './list-files.ts';
import { maker } from './maker.ts';
import { queueExport } from './queue-export.ts';
import { type ReadFile, refused } from './queue-file.ts';
import { readQueue } from './read-queue.ts';
import { runStartIn } from './run-start.ts';
import { loadSteps } from './steps-file.ts';
import { storedQueue } from './stored-queue.ts';
import { type WatchOptions, watchFolder } from './watch.ts';

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
    const { files, left } = await readQueue(paths, { onFile: (file) => void ended.push(file.name) });
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
    const read = queueReport(files, { label: 'tip 7' });
    const plain = (one: typeof report) =>
      one.files.map(({ name, sha256, began, summary, refusal, same_as, judged_by }) => ({
        name,
        sha256,
        began,
        summary,
        refusal,
        same_as,
        judged_by,
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

  it('shows the files that are there: one changed in place, one renamed, one copied, one finished later', async () => {
    const folder = newFolder();
    const bench = await newBench();
    const read = async () => readQueue(await runFilesOf(folder), { bench, label: 'a' });
    const shown = async () =>
      (await storedQueue(bench, 'a')).report.files.map(({ name, sha256, same_as }) => [
        name,
        sha256,
        same_as,
      ]);
    const one = write(folder, 1);
    const two = write(folder, 2);
    const whole = text(3);
    write(folder, 3, whole.slice(0, whole.length / 2));
    const before = await read();
    expect(before.files[2]!.summary!.broken).not.toBeNull();
    // Another length of fill in one scan: the same number of bytes and, set back, the same time.
    const changed = text(1).replace(
      /(MS:1000927"[^>]*value=")(.)/,
      (_, head, digit) => `${head}${9 - digit}`,
    );
    expect(changed.length).toBe(text(1).length);
    write(folder, 1, changed);
    renameSync(two, join(folder, 'run_7.mzML'));
    write(folder, 8, changed);
    write(folder, 3, whole);
    const { files } = await read();
    expect(files.map(({ name, cached }) => [name, cached])).toEqual([
      ['run_1.mzML', false],
      ['run_3.mzML', false],
      ['run_7.mzML', true],
      ['run_8.mzML', true],
    ]);
    expect(files[0]!.sha256).not.toBe(before.files[0]!.sha256);
    const report = queueReport(files, { label: 'a' });
    expect(await shown()).toEqual(report.files.map(({ name, sha256, same_as }) => [name, sha256, same_as]));
    expect((await storedQueue(bench, 'a')).report.sentences).toEqual(report.sentences);
    expect((await bench.store.queueLabels())[0]!.runs).toBe(3);
    rmSync(one);
    expect((await shown()).map(([name]) => name)).toContain('run_1.mzML');
  });

  it('judges a queue as it was read last, whatever one of its runs was read with since, and says so', async () => {
    const folder = newFolder();
    for (const number of [1, 2]) write(folder, number);
    const bench = await newBench();
    const paths = await runFilesOf(folder);
    await readQueue(paths, { bench, label: 'a' });
    const mask = [{ start_s: 60, end_s: 120 }];
    const alone = await readRunAndKeep(bench, paths[0]!, { mask });
    const ends = async () =>
      (await storedQueue(bench, 'a')).report.files.map(({ summary }) => summary!.kept.at(-1)!.end_s > 60);
    expect(alone.reading.trustworthy.every(({ end_s }) => end_s <= 60)).toBe(true);
    expect(await ends()).toEqual([true, true]);
    const words = async () => {
      const { report } = await storedQueue(bench, 'a');
      return [...report.sentences, ...report.cautions].join('\n');
    };
    expect(await words()).not.toContain('were judged');
    await readQueue(paths.slice(0, 1), { bench, label: 'a', mask });
    expect(await ends()).toEqual([false, true]);
    expect(await words()).toContain('The files were not all judged alike');
    await readQueue(paths, { bench, label: 'a', mask });
    expect(await words()).toContain('All files were judged with 1:00 min to 2:00 min left out.');
    expect(await words()).not.toContain('not all judged alike');
  });

  it('judges on the page by as many first files as were asked for', async () => {
    const folder = newFolder();
    for (let number = 1; number <= 9; number++) write(folder, number, text(number, number > 6 ? 0.16 : 0.05));
    const bench = await newBench();
    const paths = await runFilesOf(folder);
    const { files } = await readQueue(paths, { bench, label: 'a', baseline_files: 6 });
    const report = queueReport(files, { label: 'a', baseline_files: 6 });
    expect(report.warning.alarm).not.toBeNull();
    expect((await storedQueue(bench, 'a')).report.sentences).toEqual(report.sentences);
    await readQueue(paths, { bench, label: 'a', baseline_files: 10 });
    expect((await storedQueue(bench, 'a')).report.warning.alarm).toBeNull();
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
    anew: number[];
  }
  function watched(folder: string, bench?: Bench, how: Pick<WatchOptions, 'mask' | 'read'> = {}) {
    const heard: Heard = { files: [], alerts: [], trouble: [], anew: [] };
    const watch = watchFolder(folder, {
      bench,
      label: 'tip 7',
      baseline_files: 6,
      ...how,
      settle_s: 30,
      rest_s: 600,
      onFile: (file) => heard.files.push(`${file.name} ${file.summary?.grade ?? 'not read'}`),
      onAlert: (sentence) => {
        heard.alerts.push(sentence);
      },
      onTrouble: (reason) => heard.trouble.push(reason),
      onJudgedAnew: (files) => heard.anew.push(files),
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
    expect(again.heard).toEqual({
      files: [expect.stringMatching(/^run_13/)],
      alerts: [],
      trouble: [],
      anew: [],
    });
    expect((await storedQueue(benches.at(-1)!, 'tip 7')).alert?.sentence).toBe(first.heard.alerts[0]);
  });

  it('judges anew what was judged with other minutes left out, says how many, and then goes on as ever', async () => {
    const folder = newFolder();
    const bench = await newBench();
    for (const number of [1, 2, 3]) write(folder, number);
    const mask = [{ start_s: 60, end_s: 120 }];
    await watched(folder, bench).watch.look(at(9000));
    const other = watched(folder, bench, { mask });
    await other.watch.look(at(9015));
    expect(other.heard).toMatchObject({ anew: [3], files: { length: 3 } });
    expect((await storedQueue(bench, 'tip 7')).report.files.map(({ summary }) => summary!.judged)).toEqual(
      Array.from({ length: 3 }, () => '1:00 min to 2:00 min left out'),
    );
    const same = watched(folder, bench, { mask });
    await same.watch.look(at(9030));
    expect(same.heard).toMatchObject({ anew: [], files: [] });
  });

  it('reads a file that changed while nobody watched, and tells one only touched not again', async () => {
    const folder = newFolder();
    const bench = await newBench();
    for (const number of [1, 2]) write(folder, number);
    await watched(folder, bench).watch.look(at(9000));
    const changed = text(1).replace(
      /(MS:1000927"[^>]*value=")(.)/,
      (_, head, digit) => `${head}${9 - digit}`,
    );
    expect(changed.length).toBe(text(1).length);
    utimesSync(write(folder, 1, changed), NIGHT + 700, NIGHT + 700);
    utimesSync(join(folder, 'run_2.mzML'), NIGHT + 800, NIGHT + 800);
    const again = watched(folder, bench);
    expect(await again.watch.look(at(9015))).toBe(0);
    expect(again.heard.files).toEqual(['run_1.mzML keep']);
    expect((await storedQueue(bench, 'tip 7')).report.files).toHaveLength(2);
  });

  it('tells each file of a backlog as soon as it is read', async () => {
    const folder = newFolder();
    const bench = await newBench();
    for (const number of [1, 2, 3]) write(folder, number);
    const stop = new AbortController();
    const told: string[] = [];
    const watch = watchFolder(folder, {
      bench,
      label: 'tip 7',
      signal: stop.signal,
      onFile: ({ name }) => {
        told.push(name);
        stop.abort();
      },
      onAlert: () => {},
      onTrouble: () => {},
    });
    await watch.look(at(9000));
    expect(told).toEqual(['run_1.mzML']);
    expect(await bench.list({ kind: 'reading' })).toHaveLength(1);
  });

  it('lets a file that comes in with an old time rest first: it may be a copy under way', async () => {
    const folder = newFolder();
    const { watch, heard } = watched(folder);
    await watch.look(at(0));
    const whole = text(1);
    const path = write(folder, 1, whole.slice(0, whole.length / 2));
    utimesSync(path, NIGHT - 90_000, NIGHT - 90_000);
    expect(await watch.look(at(15))).toBe(1);
    writeFileSync(path, whole);
    utimesSync(path, NIGHT - 90_000, NIGHT - 90_000);
    expect(await watch.look(at(30))).toBe(1);
    expect(await watch.look(at(61))).toBe(0);
    expect(heard.files).toEqual(['run_1.mzML keep']);
  });

  it('tries a file again that its disk does not hand over, and tells it as lost only after a while', async () => {
    const folder = newFolder();
    const path = write(folder, 1);
    const asleep = inputError('invalid', 'run file', 'run_1.mzML, a read error (EIO)', 'a file');
    const failing: typeof readQueue = async (_, { onFile } = {}) => {
      await onFile?.(refused(path, statSync(path).size, asleep, undefined));
      return { files: [], left: 0 };
    };
    let read = failing;
    const sleepy = () => watched(folder, undefined, { read: (paths, how) => read(paths, how) });
    const wakes = sleepy();
    for (const seconds of [9000, 9015]) expect(await wakes.watch.look(at(seconds))).toBe(1);
    read = readQueue;
    expect(await wakes.watch.look(at(9030))).toBe(0);
    expect(wakes.heard.files).toEqual(['run_1.mzML keep']);
    expect(wakes.heard.trouble).toEqual([asleep.message]);
    read = failing;
    const lost = sleepy();
    for (const seconds of [9000, 9599]) expect(await lost.watch.look(at(seconds))).toBe(1);
    expect(await lost.watch.look(at(9600))).toBe(0);
    expect(lost.heard.files).toEqual(['run_1.mzML not read']);
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

  it('reads steps as they are typed', async () => {
    expect(await loadSteps('0:1000, 1.5:1050')).toEqual([
      { time_s: 0, voltage_V: 1000 },
      { time_s: 90, voltage_V: 1050 },
    ]);
    await expect(loadSteps('0:1000,1')).rejects.toThrow('invalid steps, mark 2: 1; expected minute:volts');
    await expect(loadSteps('0:1000,1:x')).rejects.toThrow('invalid steps, line 3, voltage_V: x');
    await expect(loadSteps('walk.csv')).rejects.toThrow('missing step table: walk.csv');
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
