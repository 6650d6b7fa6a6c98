/** `steadycone explain` as a person calls it. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { inventedRun } from '../../src/rehearsal/index.ts';
import { commandAlone, commandHere } from '../kit/built-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'steadycone-explain-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const runs = join(folder, 'runs');
const home = join(folder, 'bench');
const lastRun = join(runs, 'run_5.mzML');
beforeAll(() => {
  mkdirSync(runs);
  for (const seed of [1, 2, 3, 4, 5])
    writeFileSync(
      join(runs, `run_${seed}.mzML`),
      [...inventedRun({ seed, length_min: 3, faults: seed === 5 ? 'planted' : 'none' })].join(''),
    );
});

const call = (args: string[], command = 'explain') => commandHere([command, ...args], { home });
const alone = (args: string[], input = '') => commandAlone(['explain', ...args], { home, input });

it('ranks causes from what was seen and advises the next test with its gate', async () => {
  const { code, out } = await call([
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
  const { code, out, err } = alone(['--ask'], '1\nc\nq\n');
  expect(code).toBe(0);
  expect(err.match(/cannot see/g)!.length).toBe(3);
  expect(out).toContain('Why');
});

it('writes the guide as one page and the answer as JSON', async () => {
  const file = join(folder, 'guide.html');
  const { code, out } = await call([
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
  const { code, out } = alone(['--period', '13', '--flow', '300']);
  expect(code).toBe(0);
  expect(out).toContain('0.5 mm');
});

it('explains a run file, alone and beside the earlier runs of its emitter', async () => {
  const single = await call([lastRun]);
  expect(single.code).toBe(0);
  expect(single.out).toMatch(/run_5\.mzML: dropout at .* \[shape\]/);
  expect(single.out).toContain('fewer than 3 earlier runs of it are on the bench');
  expect(single.out).toContain('inferences here, not observations');
  expect((await call([runs, '--queue', '--label', 'tip 7'], 'read')).code).toBe(0);
  const beside = await call([lastRun, '--emitter', 'tip 7']);
  expect(beside.code).toBe(0);
  expect(beside.out).toMatch(/% of that of 4 earlier runs of this emitter\. \[level\]/);
  expect(beside.out).not.toContain('fewer than 3 earlier runs');
});

it('explains a kept reading with its set-up, as JSON and as a page that needs no network', async () => {
  const setup = join(folder, 'setup.yaml');
  const printed = (await call(['new'], 'setup')).out;
  writeFileSync(setup, printed.replace('# supply_V: 1800 ', 'supply_V: 600 '));
  await call([lastRun], 'read');
  const reading = /reading-\d+/.exec((await call(['list', '--kind', 'reading'], 'bench')).out)![0];
  const page = join(folder, 'night.html');
  const { code, out } = await call(['--reading', reading, '--setup', setup, '--json', '--html', page]);
  expect(code).toBe(0);
  const explained = JSON.parse(out);
  expect(explained).toMatchObject({ reading_id: reading, invented: true });
  const planned = explained.findings.find(
    ({ observable }: { observable: string }) => observable === 'plan-voltage',
  );
  expect(planned.outcome.below).toBeGreaterThan(0.5);
  const html = readFileSync(page, 'utf8');
  expect(html).toContain('What was seen');
  expect(html).not.toMatch(/https?:|\bsrc=|\bhref=|url\(|@import|<script/i);

  const did = 'High voltage off, 0 V read back; union dry.';
  expect(alone(['--reading', reading, '--did', did, '--who', 'ab']).code).toBe(0);
  expect((await call(['list', '--kind', 'note'], 'bench')).out).toContain(did);
});

it.each([
  [['--saw', 'level'], /unknown answer to level/],
  [['--saw', 'weather=bad'], /unknown question: weather/],
  [['--cannot', 'weather'], /unknown question: weather/],
  [['--period', '13'], /missing --flow/],
  [['--reading', 'reading-999'], /unknown bench item/],
  [['no-such-file.mzML'], /missing run file/],
  [['--emitter', 'nobody'], /unknown queue: "nobody"/],
  [['--did', 'looked'], /missing --reading/],
  [['--period', '1,3', '--flow', '300'], /out of range --period: 1,3/],
] as const)('refuses %j in one line', async (args, line) => {
  const { code, err } = await call([...args]);
  expect(code).toBe(1);
  expect(err).toMatch(line);
  expect(err.trim().split('\n')).toHaveLength(1);
});

it.each([
  [['--saw', 'level=none', '--saw', 'level=lower'], 0],
  [['--saw', 'level=lower', '--cannot', 'level'], 0],
  [['--cannot', 'level', '--cannot', 'level'], 0],
  [['--saw', '='], 1],
  [['--saw', 'level'], 1],
  [['--saw', 'toString=1'], 1],
  [['--cannot', ''], 1],
  [['--reading', 'reading-999'], 1],
  [['--period', '-3', '--flow', '0'], 1],
] as const)('bears %j', async (args, expected) => {
  const { code, out, err } = await call([...args]);
  expect(code).toBe(expected);
  expect(expected === 0 ? out : err).toMatch(expected === 0 ? /Next: / : /^steadycone: .*; expected /);
});
