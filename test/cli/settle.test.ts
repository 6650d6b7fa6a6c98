/** `steadycone settle` as a person calls it. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { parse } from 'yaml';
import { observationsFrom } from '../../src/contract/index.ts';

const root = join(import.meta.dirname, '..', '..');
const program = join(root, 'dist', 'cli', 'main.js');
const folder = mkdtempSync(join(tmpdir(), 'steadycone-settle-cli-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function call(...args: string[]) {
  const result = spawnSync(process.execPath, [program, 'settle', ...args], { encoding: 'utf8' });
  return { code: result.status, out: result.stdout, err: result.stderr };
}

const session = join(root, 'examples', 'settle-native.yaml');

it('walks from a new session to a hand-over that calibrates the plan', () => {
  const log = join(folder, 'walk.log');
  const begun = call('new', log, '--session', session);
  expect(begun.code).toBe(0);
  expect(begun.out).toContain('Set 1000 V, 3 mm to the inlet');
  expect(begun.out).toContain('Ask first: Hands clear of the source?');
  expect(call('add', log, '--level', '2e5', '--scatter', '6', '--current', '40').code).toBe(0);
  expect(call('add', log, '--at', 'V=1100', '--level', '5e5', '--scatter', '4').code).toBe(0);
  const third = call(
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
  const advice = JSON.parse(call('next', log, '--json').out);
  expect(call('next', log, '--json').out).toBe(call('next', log, '--json').out);
  expect(advice.to.voltage_V).toBeLessThanOrEqual(1600);
  const [page, rows] = [join(folder, 'page.html'), join(folder, 'rows.yaml')];
  const report = call('report', log, '--html', page, '--observe', rows);
  expect(report.out).toContain('Before a hand goes in');
  expect(readFileSync(page, 'utf8')).not.toMatch(/<script|https?:/);
  const seen = observationsFrom(parse(readFileSync(rows, 'utf8')));
  expect(seen.map((o) => o.seen)).toEqual(['steady', 'steady', 'several jets']);
});

it('goes down after a discharge without asking', () => {
  const log = join(folder, 'discharge.log');
  call('new', log, '--session', session);
  const { out } = call('add', log, '--at', 'V=1300', '--level', '0', '--seen', 'discharge');
  expect(out).toMatch(/^Lower the voltage by/);
  expect(out).not.toContain('Ask first');
  expect(out).toContain('voltage down at once');
});

it('refuses in one line', () => {
  const log = join(folder, 'refused.log');
  expect(call('next', log).err).toMatch(/^steadycone: missing settle log/);
  call('new', log, '--session', session);
  for (const [args, words] of [
    [['--scatter', '5'], 'missing --level'],
    [['--level', 'much'], 'invalid --level: much'],
    [['--level', '1', '--at', 'W=3'], 'unknown --at: W'],
    [['--level', '1', '--seen', 'fog'], 'unknown --seen: fog'],
    [['--level', '-4'], 'out of range level'],
  ] as const) {
    const { code, err } = call('add', log, ...args);
    expect(code).toBe(1);
    expect(err).toContain(words);
    expect(err.trim().split('\n')).toHaveLength(1);
  }
  expect(call('new', log, '--session', session).err).toContain('a file that does not exist yet');
});
