/** `steadycone rehearse` as a person calls it: the files it writes are read back by our own readers. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { commandAlone, commandHere } from '../kit/built-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'steadycone-rehearse-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const call = (...args: string[]) => commandHere(args);
const alone = (...args: string[]) => commandAlone(args);

it('writes trace, run and truth, marked invented, the same for the same seed', async () => {
  const write = async (name: string, how: typeof call | typeof alone) => {
    const out = join(folder, name);
    const { code, err } = await how(
      ...['rehearse', '--seed', '3', '--fault', 'leak-after-column', '--out', out, '--meter', 'resistor'],
      ...['--seconds', '0.5', '--run-seconds', '90', '--write', 'csv,wav,raw,mzml'],
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    return out;
  };
  const [one, two] = [await write('one', alone), await write('two', call)];
  for (const file of ['truth.json', 'trace.csv', 'trace.wav', 'trace.raw', 'trace.raw.json', 'run.mzML']) {
    const bytes = readFileSync(join(one, file));
    expect(bytes.length).toBeGreaterThan(100);
    expect(bytes.equals(readFileSync(join(two, file)))).toBe(true);
    if (file !== 'trace.raw') expect(bytes.toString('latin1')).toContain('invented');
  }
  const lines = readFileSync(join(one, 'trace.csv'), 'utf8').trim().split('\n');
  expect(lines.length).toBe(3 + 5000);
  const truth = JSON.parse(readFileSync(join(one, 'truth.json'), 'utf8'));
  expect(truth.fault.id).toBe('leak-after-column');
  expect(truth.assumptions.length).toBeGreaterThan(5);
  expect(truth.stretches.length).toBeGreaterThan(0);
  const read = await call('read', join(one, 'run.mzML'), '--no-keep', '--json');
  expect(read.code).toBe(0);
  expect(JSON.parse(read.out).invented).toBe(true);
});

it('walks a voltage by steps and tells what the bench did', async () => {
  const { code, out } = await call(
    ...['rehearse', '--seed', '3', '--out', join(folder, 'walk'), '--write', 'wav', '--meter', 'resistor'],
    ...['--seconds', '12', '--voltage', '0:700,6:1500', '--run-seconds', '0'],
  );
  expect(code).toBe(0);
  expect(out).toContain('Nothing here touches a real supply.');
  expect(out).toMatch(/0\.0 to 6\.0 s: dripping/);
  expect(out).toMatch(/several jets|tilted jet/);
});

it('leaves a voltage too low, and scans out, where that is the fault', async () => {
  const write = async (fault: string) => {
    const out = join(folder, fault);
    const { code, err } = await call(
      ...['rehearse', '--seed', '5', '--fault', fault, '--out', out, '--fault-at', '30'],
      ...['--meter', 'resistor'],
      ...['--seconds', '0.5', '--run-seconds', '120', '--write', 'mzml'],
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    const truth = JSON.parse(readFileSync(join(out, 'truth.json'), 'utf8'));
    const { out: json } = await call('read', join(out, 'run.mzML'), '--no-keep', '--json');
    return { truth, events: JSON.stringify(JSON.parse(json)) };
  };
  const low = await write('voltage-low');
  expect(low.truth.courses.voltage_V).toHaveLength(2);
  expect(low.truth.courses.voltage_V[1].at_s).toBe(30);
  expect(low.truth.courses.voltage_V[1].value).toBeLessThan(low.truth.steady_from_V);
  expect(low.truth.stretches.at(-1).regime).toMatch(/bursts|pulsating|unsteady/);
  const gap = await write('acquisition-gap');
  expect(gap.truth.stretches.at(-1).regime).toBe('cone-jet');
  expect(gap.events).toMatch(/no MS1 scan was taken/);
});

it('lists the faults, and refuses in one line', async () => {
  const { code, out } = alone('rehearse', '--faults');
  expect(code).toBe(0);
  const [played, others] = out.split('In the catalogue, but not played:');
  expect(played!.trim().split('\n').length).toBeGreaterThanOrEqual(45);
  expect(others).toContain('static-dry: only a pumped feed is rehearsed');
  expect(played).toMatch(/In written files only[\s\S]*union-dead-volume[\s\S]*voltage-low/);
  const out_dir = join(folder, 'never');
  for (const [args, words] of [
    [[], 'missing --out'],
    [['--out', out_dir, '--fault', 'gremlin'], 'unknown fault: gremlin'],
    [['--out', out_dir, '--voltage', '9000'], 'out of range voltage_V: 9000 V'],
    [['--out', out_dir, '--meter', 'none'], 'unknown --meter: none'],
    [['--out', out_dir, '--rate', '1234.5'], 'out of range rate'],
    [['--out', join(folder, 'one')], 'invalid output file'],
  ] as const) {
    const refused = await call('rehearse', ...args);
    expect(refused.err).toContain(words);
    expect(refused.err.trim().split('\n').length).toBe(1);
    expect(refused.code).toBeGreaterThan(0);
  }
  expect(existsSync(out_dir)).toBe(false);
});

it.each([
  [['--fault', 'union-dead-volume'], 'missing --peaks: union-dead-volume shows in eluting peaks'],
  [['--fault', 'voltage-low', '--voltage', '900'], 'invalid --voltage: given with the fault voltage-low'],
  [['--fault', 'hidden-pulsation'], 'unknown fault: hidden-pulsation (here a pulsation always costs signal'],
])('refuses what a written fault cannot show: %j', async (args, words) => {
  const out = join(folder, 'nothing');
  const refused = await call('rehearse', '--out', out, ...args);
  expect(refused.err).toContain(words);
  expect(refused.err.trim().split('\n').length).toBe(1);
  expect(refused.code).toBeGreaterThan(0);
  expect(existsSync(out)).toBe(false);
});
