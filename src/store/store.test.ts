import { spawn } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterEach, describe, expect, it } from 'vitest';
import { setupFrom } from '../contract/index.ts';
import type { Plan } from '../core/plan/plan.ts';
import { openFile } from './driver.ts';
import { type DriverName, driverNames, openStore, type RunFacts, type Stamp, type Store } from './index.ts';
import { migrations } from './migrations.ts';

const folders: string[] = [];
const stores: Store[] = [];

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-store-'));
  folders.push(folder);
  return folder;
}

async function opened(folder: string, driver?: DriverName): Promise<Store> {
  const store = await openStore(folder, { driver });
  stores.push(store);
  return store;
}

afterEach(async () => {
  for (const store of stores.splice(0)) await store.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

const stamp: Stamp = {
  who: 'night shift',
  when: '2031-02-03T04:05:06.000Z',
  version: '0.1.0',
  invented: false,
};
const later: Stamp = { ...stamp, when: '2031-02-03T05:00:00.000Z' };

const setup = setupFrom({
  name: 'Two-hour gradient',
  emitter: { bore_um: 10, rim_um: 20 },
  liquid: { acetonitrile_percent: 30, additive: 'formic acid', additive_percent: 0.1 },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  inlet: { distance_mm: 3 },
});

/** The store reads the title's few numbers from a plan and keeps the rest as it comes. */
const plan = {
  onset_V: { value: 1400.4 },
  advised_V: { value: 1700 },
  electric_state: { kind: 'cone-jet expected', sentence: 'A cone-jet is expected.' },
  limited_by: 'the surface tension',
} as unknown as Plan;

function run(letter: string, name = 'night-1.mzML'): RunFacts {
  return { sha256: letter.repeat(64), name, bytes: 1234, format: 'mzML', ms1_count: 77 };
}

async function filled(store: Store) {
  const kept = await store.addSetup(setup, stamp);
  const planned = await store.addPlan(kept.id, plan, stamp);
  const first = await store.addRun(run('a'), later);
  const reading = await store.addReading(
    first.id,
    { title: 'keep all 42 min', document: { level: [1, null] } },
    later,
  );
  const note = await store.note(
    { on: kept.emitter_id, text: 'new tip\nsame batch', who: 'late shift' },
    later,
  );
  return { kept, planned, run: first, reading, note };
}

describe.each(driverNames)('the store on %s', (driver) => {
  it('keeps what it is given and says who, when and which version', async () => {
    const store = await opened(newFolder(), driver);
    expect(store.driver).toBe(driver);
    const { kept, planned, reading, note } = await filled(store);
    expect([kept.id, kept.emitter_id, planned.id, reading.id, note.id]).toEqual([
      'setup-1',
      'emitter-1',
      'plan-1',
      'reading-1',
      'note-1',
    ]);
    const entry = await store.show('setup-1');
    expect(entry.item).toEqual({
      id: 'setup-1',
      kind: 'setup',
      title: 'Two-hour gradient',
      when: stamp.when,
      who: 'night shift',
      version: '0.1.0',
      invented: false,
      on: 'emitter-1',
    });
    expect(entry.document).toEqual(JSON.parse(JSON.stringify(setup)));
    expect(entry.related.map((item) => item.id)).toEqual(['emitter-1', 'plan-1']);
    const emitter = await store.show('emitter-1');
    expect(emitter.related.map((item) => item.id)).toEqual(['setup-1', 'note-1']);
    expect((await store.show('note-1')).document).toEqual({ text: 'new tip\nsame batch' });
    expect((await store.show('note-1')).item).toMatchObject({
      title: 'new tip same batch',
      who: 'late shift',
    });
    expect((await store.show('plan-1')).item.title).toBe('onset 1400 V, advised 1700 V at the tip');
    expect((await store.show('reading-1')).document).toEqual({ level: [1, null] });
  });

  it('finds the same content again instead of writing it twice', async () => {
    const store = await opened(newFolder(), driver);
    await filled(store);
    const reordered = setupFrom({ ...setup, emitter: { ...setup.emitter } });
    expect(await store.addSetup(reordered, later)).toEqual({
      id: 'setup-1',
      emitter_id: 'emitter-1',
      created: false,
    });
    expect(await store.addPlan('setup-1', plan, later)).toEqual({ id: 'plan-1', created: false });
    expect(await store.addRun(run('a', 'renamed.mzML'), later)).toEqual({ id: 'run-1', created: false });
    const reading = { title: 'keep all 42 min', document: { level: [1, null] } };
    expect(await store.addReading('run-1', reading, stamp)).toEqual({ id: 'reading-1', created: false });
    expect(await store.addReading('run-1', reading, { ...stamp, version: '0.2.0' })).toMatchObject({
      created: true,
    });
    const wider = { ...setup, name: 'Other inlet', inlet: { ...setup.inlet, distance_mm: 4 } };
    expect(await store.addSetup(wider, later)).toMatchObject({ emitter_id: 'emitter-1', created: true });
    const invented = await store.addSetup(setup, { ...later, invented: true });
    expect(invented).toMatchObject({ created: true });
    expect(invented.emitter_id).not.toBe('emitter-1');
  });

  it('lists newest first, by kind and by words', async () => {
    const store = await opened(newFolder(), driver);
    await filled(store);
    await store.addRun(run('b', '100%_done.mzML'), stamp);
    expect((await store.list()).map((item) => item.id)).toEqual([
      'note-1',
      'reading-1',
      'run-1',
      'emitter-1',
      'plan-1',
      'run-2',
      'setup-1',
    ]);
    expect((await store.list({ kind: 'run' })).map((item) => item.id)).toEqual(['run-1', 'run-2']);
    expect((await store.list({ query: 'GRADIENT acetonitrile' })).map((item) => item.id)).toEqual([
      'setup-1',
    ]);
    expect((await store.list({ query: '0%_' })).map((item) => item.id)).toEqual(['run-2']);
    expect(await store.list({ query: 'nothing-like-it' })).toEqual([]);
  });

  it('exports everything as one document', async () => {
    const store = await opened(newFolder(), driver);
    await filled(store);
    const all = await store.exportAll();
    expect(all.format).toBe('steadycone bench');
    expect(all.items.map(({ item }) => item.id)).toEqual([
      'emitter-1',
      'setup-1',
      'plan-1',
      'run-1',
      'reading-1',
      'note-1',
    ]);
    for (const { item, document } of all.items)
      expect(document).toEqual((await store.show(item.id)).document);
  });

  it('refuses subjects that are not there', async () => {
    const store = await opened(newFolder(), driver);
    await filled(store);
    for (const id of ['run-9', 'run-0', 'tip-1', "run-1' or 1=1", 'constructor-1', '']) {
      await expect(store.show(id)).rejects.toThrow(/^unknown bench item: ".*"; expected an id/);
    }
    await expect(store.note({ on: 'run-9', text: 'x', who: '' }, stamp)).rejects.toThrow(
      'unknown bench item: "run-9"',
    );
    await expect(store.note({ on: 'note-1', text: 'x', who: '' }, stamp)).rejects.toThrow(
      'invalid subject: "note-1"',
    );
    await expect(store.note({ on: 'run-1', text: ' ', who: '' }, stamp)).rejects.toThrow('invalid note text');
    await expect(store.addPlan('run-1', plan, stamp)).rejects.toThrow('invalid subject');
    expect(await store.list({ kind: 'note' })).toHaveLength(1);
  });

  it('keeps all of one action or nothing', async () => {
    const store = await opened(newFolder(), driver);
    await expect(
      store.atomically(async (writer) => {
        await writer.addRun(run('c'), stamp);
        throw new Error('stopped');
      }),
    ).rejects.toThrow('stopped');
    expect(await store.list()).toEqual([]);
    const many = Array.from({ length: 20 }, (_, i) => store.addRun(run('0123456789abcdefghij'[i]!), stamp));
    await Promise.all(many);
    expect(await store.list({ kind: 'run' })).toHaveLength(20);
  });

  it('is opened again by either driver with everything in it', async () => {
    const folder = newFolder();
    const first = await openStore(folder, { driver });
    await filled(first);
    const before = await first.exportAll();
    await first.close();
    for (const other of driverNames) {
      const again = await openStore(folder, { driver: other });
      expect(await again.exportAll()).toEqual(before);
      await again.close();
    }
  });

  it('loses nothing it acknowledged when its process is killed while writing', async () => {
    const folder = newFolder();
    const acknowledged = await idsAcknowledgedBeforeKill(folder, driver, 25);
    expect(acknowledged.length).toBeGreaterThanOrEqual(25);
    const store = await opened(folder, driver);
    const kept = new Set((await store.list()).map((item) => item.id));
    expect(acknowledged.filter((id) => !kept.has(id))).toEqual([]);
    const runs = await store.list({ kind: 'run' });
    const readings = await store.list({ kind: 'reading' });
    expect(readings.length).toBe(runs.length);
  });

  it('is a single file once it is closed', async () => {
    const folder = newFolder();
    const store = await openStore(folder, { driver });
    await filled(store);
    await store.close();
    const copy = newFolder();
    copyFileSync(join(folder, 'bench.sqlite'), join(copy, 'bench.sqlite'));
    expect(await (await opened(copy, driver)).list()).toHaveLength(6);
  });

  it('lets a second process write while it is open', async () => {
    const folder = newFolder();
    const store = await opened(folder, driver);
    await store.addRun(run('f'), stamp);
    await store.list();
    await idsAcknowledgedBeforeKill(folder, driver, 3);
    expect(await store.addRun(run('g'), stamp)).toMatchObject({ created: true });
    expect((await store.list({ kind: 'run' })).length).toBeGreaterThanOrEqual(4);
  });

  it('refuses a damaged file in one line and leaves it alone', async () => {
    const folder = newFolder();
    const file = join(folder, 'bench.sqlite');
    writeFileSync(
      file,
      'not a database at all, but long enough to be looked at as if it were one'.repeat(20),
    );
    const before = readFileSync(file);
    await expect(openStore(folder, { driver })).rejects.toThrow(
      /^invalid bench store: .*bench\.sqlite, damaged: .*; expected/,
    );
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  it('refuses a store whose inside is damaged', async () => {
    const folder = newFolder();
    const store = await openStore(folder, { driver });
    for (let i = 0; i < 40; i++) {
      const document = { level: Array.from({ length: 400 }, (_, k) => k * i) };
      await store.atomically(async (writer) => {
        const added = await writer.addRun({ ...run('a'), sha256: `${i}` }, stamp);
        await writer.addReading(added.id, { title: 'keep', document }, stamp);
      });
    }
    await store.close();
    const bytes = readFileSync(join(folder, 'bench.sqlite'));
    const damagedFolder = newFolder();
    bytes.fill(0x5a, 4096 * 3, Math.floor(bytes.length / 4096) * 4096);
    writeFileSync(join(damagedFolder, 'bench.sqlite'), bytes);
    await expect(openStore(damagedFolder, { driver })).rejects.toThrow(/^invalid bench store: .*damaged: /);
  });

  it('keeps queues, short readings by their maker and one alert for each label', async () => {
    const store = await opened(newFolder(), driver);
    const added = await store.addRun(run('a'), stamp);
    const reading = await store.addReading(added.id, { title: 'keep', document: { a: 1 } }, stamp);
    const short = { maker: 'one', summary: { kept: 1 }, metrics: [2], started: null };
    await store.addShort(reading.id, short);
    await store.addShort(reading.id, { ...short, summary: { kept: 9 } });
    expect(await store.shortOf(run('a').sha256, 'one')).toEqual({
      run_id: added.id,
      reading_id: reading.id,
      summary: { kept: 1 },
      metrics: [2],
      started: null,
    });
    expect(await store.shortOf(run('a').sha256, 'two')).toBeUndefined();
    expect(await store.lastShortOf(run('a').sha256)).toMatchObject({ summary: { kept: 1 } });
    const facts = {
      name: 'night\n1.mzML',
      began: '2031-02-03T20:00:00Z',
      began_from: 'run',
      place: 'here',
      maker: 'one',
      changed_ms: 1.5,
    } as const;
    await store.addToQueue(' tip\t7 ', added.id, facts, stamp.when);
    await store.addToQueue('tip 7', added.id, { ...facts, maker: 'two' }, later.when);
    expect(await store.queuedRuns('tip 7')).toMatchObject([
      { run_id: added.id, name: 'night 1.mzML', bytes: run('a').bytes, maker: 'two', changed_ms: 1.5 },
    ]);
    expect(await store.queueLabels()).toEqual([
      { label: 'tip 7', runs: 1, last: stamp.when, invented: false },
    ]);
    expect(await store.runSizes()).toEqual(new Set([run('a').bytes]));
    const refusal = { name: 'x.mzML', bytes: 5, changed: null, reason: 'not an XML document' };
    await store.addRefusal('tip 7', refusal, stamp.when);
    await store.addRefusal('tip 7', refusal, later.when);
    await store.addRefusal('tip 7', { ...refusal, name: 'night 1.mzML' }, stamp.when);
    expect(await store.queueRefusals('tip 7')).toEqual([refusal]);
    const alert = { label: 'tip 7', raised_at: stamp.when, sentence: 'the scatter keeps rising' };
    expect(await store.addAlert(alert)).toBe(true);
    expect(await store.addAlert({ ...alert, sentence: 'again' })).toBe(false);
    expect(await store.queueAlert('tip 7')).toEqual(alert);
    expect(await store.queueAlert('tip 8')).toBeUndefined();
    expect(await store.queueBaseline('tip 7')).toBeUndefined();
    for (const files of [6, 12]) await store.setQueueBaseline('tip 7', files);
    expect(await store.queueBaseline('tip 7')).toBe(12);
    expect((await store.exportAll()).queues).toMatchObject([
      { label: 'tip 7', runs: [{ run_id: added.id }] },
    ]);
  });

  it('keeps one file for each place of a queue: changed, moved or copied', async () => {
    const store = await opened(newFolder(), driver);
    const [first, second] = [await store.addRun(run('a'), stamp), await store.addRun(run('b'), stamp)];
    const facts = { began: null, began_from: null, maker: 'one', changed_ms: 1 };
    const add = (id: string, name: string, standing: string[], when = stamp.when) =>
      store.addToQueue('q', id, { ...facts, name, place: name, standing: new Set(standing) }, when);
    const names = async () =>
      (await store.queuedRuns('q')).map(({ run_id, name }) => [run_id === first.id ? 'a' : 'b', name]);
    await add(first.id, 'x', ['x']);
    await add(first.id, 'copy', ['x', 'copy']);
    expect(await names()).toEqual([
      ['a', 'x'],
      ['a', 'copy'],
    ]);
    expect(await store.queueLabels()).toMatchObject([{ label: 'q', runs: 1, last: stamp.when }]);
    await add(second.id, 'copy', ['x', 'copy'], later.when);
    expect(await names()).toEqual([
      ['a', 'x'],
      ['b', 'copy'],
    ]);
    expect(await store.queueLabels()).toMatchObject([{ runs: 2, last: later.when }]);
    await add(first.id, 'renamed', ['renamed', 'copy']);
    expect(await names()).toEqual([
      ['b', 'copy'],
      ['a', 'renamed'],
    ]);
  });

  it('brings the queues of an older store along', async () => {
    const folder = newFolder();
    const { database } = await openFile(join(folder, 'bench.sqlite'), driver);
    database.prepare('create table migrations (number integer primary key, name text not null)').run([]);
    for (const { number, name, statements } of migrations.slice(0, 3)) {
      for (const statement of statements) database.prepare(statement).run([]);
      database.prepare(`insert into migrations values (${number}, '${name}')`).run([]);
    }
    const stamped = "'t', 'then', '', '1', 0, ''";
    database.prepare(`insert into runs values (7, ${stamped}, 'abc', '{"bytes": 5}')`).run([]);
    database.prepare("insert into queue_runs values (3, 'q', 7, 'x.mzML', null, null, 'then')").run([]);
    database.close();
    const store = await opened(folder, driver);
    const [old] = await store.queuedRuns('q');
    expect(old).toMatchObject({ run_id: 'run-7', name: 'x.mzML', bytes: 5, maker: null, changed_ms: null });
    const facts = { name: 'x.mzML', began: null, began_from: null, maker: 'one', changed_ms: 1 };
    await store.addToQueue('q', 'run-7', { ...facts, place: 'here' }, stamp.when);
    expect(await store.queuedRuns('q')).toMatchObject([{ run_id: 'run-7', place: 'here', maker: 'one' }]);
  });

  it('refuses a store with migrations it does not know', async () => {
    const folder = newFolder();
    await (await openStore(folder, { driver })).close();
    const { database } = await openFile(join(folder, 'bench.sqlite'), driver);
    database.prepare("insert into migrations values (6, 'from later')").run([]);
    database.close();
    await expect(openStore(folder, { driver })).rejects.toThrow(
      /^invalid bench store: .*corrupted migrations: number 6 'from later' is not this program's; expected/,
    );
  });

  it('says in one line that a folder cannot be written', async () => {
    const folder = newFolder();
    const blocked = join(folder, 'a-file', 'bench');
    writeFileSync(join(folder, 'a-file'), '');
    await expect(openStore(blocked, { driver })).rejects.toThrow(
      `invalid bench folder: ${blocked}, not writable; expected a folder you may write to, or set STEADYCONE_HOME to one`,
    );
  });
});

describe('a read-only home', () => {
  it.runIf(process.platform !== 'win32')('is refused in one line', async () => {
    const folder = newFolder();
    const home = join(folder, 'home');
    mkdirSync(home);
    await (await openStore(home)).close();
    chmodSync(join(home, 'bench.sqlite'), 0o444);
    chmodSync(home, 0o555);
    chmodSync(folder, 0o755);
    const message = await messageAsOrdinaryUser(home);
    chmodSync(home, 0o755);
    expect(message).toBe(
      `invalid bench folder: ${home}, not writable; expected a folder you may write to, or set STEADYCONE_HOME to one`,
    );
  });
});

const storeModule = JSON.stringify(new URL('./index.ts', import.meta.url).href);

/** Starts a process that stores runs with readings without end, and kills it right after its `count`-th word. */
async function idsAcknowledgedBeforeKill(
  folder: string,
  driver: DriverName,
  count: number,
): Promise<string[]> {
  const script = `
    const { openStore } = await import(${storeModule});
    const store = await openStore(${JSON.stringify(folder)}, { driver: ${JSON.stringify(driver)} });
    const stamp = ${JSON.stringify(stamp)};
    const level = Array.from({ length: 5000 }, (_, i) => i);
    for (let i = 0; ; i++) {
      const ids = await store.atomically(async (writer) => {
        const run = await writer.addRun({ sha256: 'kill-' + i, name: 'k.mzML', bytes: i, format: 'mzML', ms1_count: 1 }, stamp);
        const reading = await writer.addReading(run.id, { title: 'keep', document: { i, level } }, stamp);
        return [run.id, reading.id];
      });
      process.stdout.write(ids.join('\\n') + '\\n');
    }`;
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const exited = new Promise((resolve) => child.once('exit', resolve));
  const ids: string[] = [];
  for await (const line of createInterface({ input: child.stdout })) {
    ids.push(line);
    if (ids.length === count) child.kill('SIGKILL');
  }
  await exited;
  return ids;
}

/** What opening the store says to a user without special rights. */
async function messageAsOrdinaryUser(folder: string): Promise<string> {
  const script = `
    const { openStore } = await import(${storeModule});
    await openStore(${JSON.stringify(folder)}).then(() => process.stdout.write('opened'), (error) => process.stdout.write(error.message));`;
  const root = process.getuid?.() === 0;
  const child = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
    stdio: ['ignore', 'pipe', 'inherit'],
    // tsx keeps its cache in a folder of its own for each user; nobody has no home.
    env: { ...process.env, HOME: tmpdir() },
    ...(root ? { uid: 65534, gid: 65534 } : {}),
  });
  let text = '';
  for await (const piece of child.stdout) text += String(piece);
  return text;
}
