/** `steadycone settle` as a person calls it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { parse } from 'yaml';
import { observationsFrom } from '../../src/contract/index.ts';
import { inventedRun } from '../../src/rehearsal/index.ts';
import { commandAlone, commandHere } from '../kit/built-command.ts';

const root = join(import.meta.dirname, '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'steadycone-settle-cli-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const home = join(folder, 'bench');
const call = (...args: string[]) => commandHere(['settle', ...args], { home });
const alone = (...args: string[]) => commandAlone(['settle', ...args], { home });

const session = join(root, 'examples', 'settle-native.yaml');

it('walks from a new session to a hand-over that calibrates the plan', async () => {
  const log = join(folder, 'walk.log');
  const begun = alone('new', log, '--session', session);
  expect(begun.code).toBe(0);
  expect(begun.out).toContain('Set 1000 V, 3 mm to the inlet');
  expect(begun.out).toContain('Ask first: Hands clear of the source?');
  expect(alone('add', log, '--level', '2e5', '--scatter', '6', '--current', '40').code).toBe(0);
  expect((await call('add', log, '--at', 'V=1100', '--level', '5e5', '--scatter', '4')).code).toBe(0);
  const third = await call(
    'add',
    log,
    '--at',
    'V=1250',
    '--level',
    '1e5',
    '--scatter',
    '35',
    '--seen',
    'several jets',
  );
  expect(third.out).toContain('Best so far');
  const advice = JSON.parse((await call('next', log, '--json')).out);
  expect(alone('next', log, '--json').out).toBe((await call('next', log, '--json')).out);
  expect(advice.to.voltage_V).toBeLessThanOrEqual(1600);
  const [page, rows] = [join(folder, 'page.html'), join(folder, 'rows.yaml')];
  const report = alone('report', log, '--html', page, '--observe', rows);
  expect(report.out).toContain('Before a hand goes in');
  expect(readFileSync(page, 'utf8')).not.toMatch(/<script|https?:/);
  const seen = observationsFrom(parse(readFileSync(rows, 'utf8')));
  expect(seen.map((o) => o.seen)).toEqual(['steady', 'steady', 'several jets']);
});

it('goes down after a discharge without asking', async () => {
  const log = join(folder, 'discharge.log');
  await call('new', log, '--session', session);
  const { out } = await call('add', log, '--at', 'V=1300', '--level', '0', '--seen', 'discharge');
  expect(out).toMatch(/^Lower the voltage by/);
  expect(out).not.toContain('Ask first');
  expect(out).toContain('voltage down at once');
});

it('refuses in one line', async () => {
  const log = join(folder, 'refused.log');
  expect(alone('next', log).err).toMatch(/^steadycone: missing settle log/);
  await call('new', log, '--session', session);
  for (const [args, words] of [
    [['--scatter', '5'], 'missing --level'],
    [['--level', 'much'], 'invalid --level: much'],
    [['--level', '1', '--at', 'W=3'], 'unknown --at: W'],
    [['--level', '1', '--seen', 'fog'], 'unknown --seen: fog'],
    [['--level', '-4'], 'out of range level'],
  ] as const) {
    const { code, err } = await call('add', log, ...args);
    expect(code).toBe(1);
    expect(err).toContain(words);
    expect(err.trim().split('\n')).toHaveLength(1);
  }
  expect((await call('new', log, '--session', session)).err).toContain('a file that does not exist yet');
});

it('begins for a cause, proves with a run, keeps the point and hands its rows on', async () => {
  const log = join(folder, 'story.log');
  const run = join(folder, 'before.mzML');
  writeFileSync(run, [...inventedRun({ seed: 3, length_min: 3 })].join(''));
  const begun = await call(
    'new',
    log,
    '--session',
    session,
    '--because',
    'offset-drift',
    '--run',
    run,
    '--emitter',
    'tip 7',
  );
  expect(begun.out).toMatch(/^Begun because of: lateral offset.*before\.mzML \(reading-1\): level/);
  expect((await call('prove', log, run)).err).toContain('missing readings');
  expect((await call('add', log, '--level', '2e5', '--scatter', '6')).code).toBe(0);
  expect(alone('prove', log, '--reading', 'reading-1').out).toMatch(
    /^Before -> after: level .* Not better in every respect/,
  );
  const kept = await call('report', log, '--keep', '--who', 'ab');
  expect(kept.out).toMatch(/The reading that proves it[\s\S]*Before -> after/);
  expect(kept.out).toMatch(
    /Kept as point-1 on the bench: tip 7: \d+ V.*the search is not done; the proof failed/,
  );
  const bench = (...args: string[]) => commandHere(['bench', ...args], { home });
  expect((await bench('list', '--kind', 'working point')).out).toMatch(/^point-1 .* by ab$/m);
  expect(observationsFrom(parse((await bench('observe', 'point-1')).out)).map((o) => o.seen)).toEqual([
    'steady',
  ]);
  expect((await bench('observe', 'reading-1')).err).toMatch(/^steadycone: invalid working point/);
});

it('refuses a story that makes no sense', async () => {
  const log = join(folder, 'nonsense.log');
  const begin = async (...args: string[]) => (await call('new', log, '--session', session, ...args)).err;
  expect(await begin('--because', 'gremlins')).toContain('unknown because.cause: gremlins');
  expect(await begin('--reading', 'reading-1')).toContain('missing --because');
  expect(await begin('--because', 'offset-drift', '--sure', '7')).toContain('out of range probability');
  expect(await begin('--because', 'offset-drift', '--reading', 'reading-999')).toContain(
    'unknown bench item',
  );
  expect((await call('next', log)).code).toBe(1);
  await call('new', log, '--session', session);
  await call('add', log, '--level', '2e5');
  expect((await call('prove', log)).err).toContain('missing proof');
  expect((await call('prove', log, 'no-such.mzML')).code).toBe(1);
});
