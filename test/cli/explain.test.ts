/** `steadycone explain` as a person calls it. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';

const program = join(import.meta.dirname, '..', '..', 'dist', 'cli', 'main.js');
const folder = mkdtempSync(join(tmpdir(), 'steadycone-explain-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function call(args: string[], input = '') {
  const result = spawnSync(process.execPath, [program, 'explain', ...args], { encoding: 'utf8', input });
  return { code: result.status, out: result.stdout, err: result.stderr };
}

it('ranks causes from what was seen and advises the next test with its gate', () => {
  const { code, out } = call([
    '--saw',
    'level=none',
    '--saw',
    'pressure=rising',
    '--saw',
    'current=none',
    '--saw',
    'trend=sudden',
  ]);
  expect(code).toBe(0);
  expect(out).toContain('Most likely: full clog');
  expect(out).toContain('Next: ');
  expect(out).toContain('Interlocks stay as they are.');
});

it('asks on, one question at a time, and stops when told', () => {
  const { code, out, err } = call(['--ask'], '1\nc\nq\n');
  expect(code).toBe(0);
  expect(err.match(/cannot see/g)!.length).toBe(3);
  expect(out).toContain('Why');
});

it('writes the guide as one page and the answer as JSON', () => {
  const file = join(folder, 'guide.html');
  const { code, out } = call([
    '--saw',
    'shape=ripple',
    '--saw',
    'pressure=periodic',
    '--html',
    file,
    '--json',
  ]);
  expect(code).toBe(0);
  expect(JSON.parse(out).ranked.causes[0].fault).toBe('pump-pulsation');
  expect(readFileSync(file, 'utf8')).toContain('Stop rule.');
});

it('does the arithmetic of a period', () => {
  const { code, out } = call(['--period', '13', '--flow', '300']);
  expect(code).toBe(0);
  expect(out).toContain('0.5 mm');
});

it.each([
  [['--saw', 'level'], /unknown answer to level/],
  [['--saw', 'weather=bad'], /unknown question: weather/],
  [['--cannot', 'weather'], /unknown question: weather/],
  [['--period', '13'], /missing --flow/],
  [['--period', '1,3', '--flow', '300'], /out of range --period: 1,3/],
] as const)('refuses %j in one line', (args, line) => {
  const { code, err } = call([...args]);
  expect(code).toBe(1);
  expect(err).toMatch(line);
  expect(err.trim().split('\n')).toHaveLength(1);
});
