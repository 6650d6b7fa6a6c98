/** `read FILE --against GOOD`: the built program, its reports, and what it refuses. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBench } from '../../src/app/index.ts';
import { buildServer } from '../../src/server/index.ts';
import { commandAlone, commandHere } from '../kit/built-command.ts';
import { runOfMethod } from '../kit/made-method-pair.ts';

const home = mkdtempSync(join(tmpdir(), 'steadycone-against-'));
const bench = join(home, 'bench');
afterAll(() => rmSync(home, { recursive: true, force: true }));

const STEP_S = 270;
/** Starts of the program on a busy machine. */
const STARTS_MS = 120_000;

const path = (name: string): string => join(home, `${name}.mzML`);

function write(name: string, method: number, noise: number, factor: (t: number) => number): void {
  writeFileSync(path(name), runOfMethod(method, noise, factor));
}

beforeAll(() => {
  write('good', 7, 1, () => 1);
  write('second', 7, 2, () => 0.8);
  write('step', 7, 3, (t) => (t < STEP_S ? 1 : 0.6));
  write('method', 9, 4, () => 1);
});

const call = (...args: string[]) => commandHere(args, { home: bench });

describe('read --against', () => {
  it(
    'tells the step, draws it, and says it alike in text, JSON, CSV, SVG and HTML',
    async () => {
      const files = { svg: join(home, 'a.svg'), html: join(home, 'a.html') };
      const given = ['read', path('step'), '--against', path('good'), '--against', path('second')];
      const text = commandAlone([...given, '--no-keep', '--svg', files.svg, '--html', files.html], {
        home: bench,
      });
      expect(text.code, text.err).toBe(0);
      expect(text.out).toContain('Held against good.mzML, second.mzML by ');
      const { against, events } = JSON.parse((await call(...given, '--no-keep', '--json')).out);
      expect(against.events.map(({ kind }: { kind: string }) => kind)).toEqual(['step']);
      // Steps of ten seconds.
      expect(Math.abs(against.events[0].start_s - STEP_S)).toBeLessThan(21);
      expect(Math.abs(against.events[0].depth - 0.4)).toBeLessThan(0.05);
      expect(text.out).toContain(against.events[0].sentence);
      // The run's own events are its own.
      expect(events.every(({ sentence }: { sentence: string }) => !sentence.includes('good runs'))).toBe(
        true,
      );
      expect(readFileSync(files.svg, 'utf8')).toContain('Ratio to the good runs by standing ions');
      const html = readFileSync(files.html, 'utf8');
      expect(html).toContain('Against good runs');
      expect(html).toContain(against.events[0].sentence);
      const csv = (await call(...given, '--no-keep', '--csv')).out.trimEnd().split('\r\n');
      expect(csv).toHaveLength(1 + against.series.time_s.length);
    },
    STARTS_MS,
  );

  it('takes a kept reading by its id', async () => {
    expect((await call('read', path('good'))).out).toContain('Kept as reading-1');
    const { out, code } = await call('read', path('second'), '--against', 'reading-1', '--json');
    expect(code).toBe(0);
    const { against } = JSON.parse(out);
    expect(against.references[0].name).toBe('good.mzML (reading-1)');
    expect(against.events).toEqual([]);
    expect(Math.abs(against.ratio.value - 0.8)).toBeLessThan(0.03);
    const direct = await call('read', path('second'), '--against', path('good'), '--json', '--no-keep');
    expect(JSON.parse(direct.out).against.series).toEqual(against.series);
  });

  it('refuses another method by name, and still reads the run', async () => {
    const { out, code } = await call('read', path('step'), '--against', path('method'), '--no-keep');
    expect(code).toBe(0);
    expect(out).toContain('method.mzML cannot serve as the good run: other ions');
  });

  it('holds each file of a queue against the good files before it, on the command line and over HTTP', async () => {
    const night = join(home, 'night');
    mkdirSync(night);
    for (let number = 1; number <= 4; number++) {
      const text = runOfMethod(7, 10 + number, (t) => (number === 4 && t >= STEP_S ? 0.6 : 1));
      writeFileSync(join(night, `run_${number}.mzML`), text);
      const time = Date.UTC(2031, 1, 3, 20) / 1000 + 600 * number;
      utimesSync(join(night, `run_${number}.mzML`), time, time);
    }
    const { out, code } = await call('read', night, '--queue', '--earlier', '--jobs', '1');
    expect(code).toBe(0);
    expect(out).toContain('run_2.mzML: fewer than 2 good files stand before it.');
    expect(out).toContain('run_3.mzML: flat. Usual ratio 10');
    expect(out).toMatch(/run_4\.mzML: From 4:\d\d min on this run stays (39|40|41) %/);
    const { earlier } = JSON.parse((await call('read', night, '--queue', '--earlier', '--json')).out);
    expect(earlier[3].good).toEqual(['run_1.mzML', 'run_2.mzML', 'run_3.mzML']);
    const opened = await openBench(bench);
    const app = await buildServer({ bench: opened, webRoot: home });
    const reply = await app.inject({ url: '/api/queues/night/earlier', headers: { host: '127.0.0.1:4747' } });
    expect(reply.json().files).toEqual(earlier);
    await app.close();
    await opened.close();
    expect((await call('read', night, '--queue', '--earlier', '--no-keep')).err).toContain(
      'expected the bench',
    );
    expect((await call('read', path('good'), '--earlier')).err).toContain('invalid option: --earlier');
  });

  it('refuses what is no run, a folder, and other modes', async () => {
    expect((await call('read', path('step'), '--against', path('none'))).err).toContain('none.mzML');
    const empty = join(home, 'empty.mzML');
    writeFileSync(empty, '');
    expect((await call('read', path('step'), '--against', empty)).err).toBe(
      'steadycone: invalid run file empty.mzML: an empty file; expected mzML or mzXML\n',
    );
    const cut = join(home, 'cut.mzML');
    const whole = readFileSync(path('good'));
    writeFileSync(cut, whole.subarray(0, Math.round(0.9 * whole.length)));
    expect((await call('read', path('step'), '--against', cut, '--no-keep')).out).toContain(
      'Held against cut.mzML (it breaks off) by',
    );
    expect((await call('read', path('step'), '--against', home)).err).toMatch(
      /^steadycone: invalid against: /,
    );
    expect((await call('read', path('step'), '--against', 'reading-99')).err).toContain('reading-99');
    expect((await call('read', path('step'), '--against', path('good'), '--ready')).err).toContain(
      'invalid option: --against with --ready',
    );
    const many = await call('read', home, '--queue', '--against', home, '--against', home);
    expect(many.err).toContain('expected one folder with --queue');
  });
});
