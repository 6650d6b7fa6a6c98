/** `read` over folders and with its reports: the built program, workers and all; where a process ends or is stopped, alone. */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inventedRun } from '../../src/rehearsal/index.ts';
import { builtProgram, commandAlone, commandHere } from '../kit/built-command.ts';
import { methodSetupText, runWithPressure } from '../kit/made-method.ts';

const home = mkdtempSync(join(tmpdir(), 'steadycone-many-'));
const night = join(home, 'night');
const other = join(home, 'other');
afterAll(() => rmSync(home, { recursive: true, force: true }));

const bench = join(home, 'bench');
const call = (...args: string[]) => commandHere(args, { home: bench });
const alone = (...args: string[]) => commandAlone(args, { home: bench });

function write(folder: string, number: number, scatter: number): string {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, `run_${number}.mzML`);
  writeFileSync(path, [...inventedRun({ seed: number, length_min: 2, faults: 'none', scatter })].join(''));
  const time = Date.UTC(2031, 1, 3, 20) / 1000 + 600 * number;
  utimesSync(path, time, time);
  return path;
}

beforeAll(() => {
  for (let number = 1; number <= 9; number++) write(night, number, number > 6 ? 0.16 : 0.05);
  for (let number = 1; number <= 6; number++) write(other, number, 0.1);
});

describe('read --queue', () => {
  it('reads in workers, names what is no run, and gives all reports', async () => {
    writeFileSync(join(night, 'letter.mzML'), 'hello');
    const files = { svg: join(home, 'q.svg'), html: join(home, 'q.html'), mzqc: join(home, 'q.mzQC') };
    const reports = ['--svg', files.svg, '--html', files.html, '--mzqc', files.mzqc];
    const { code, out, err } = alone('read', night, '--queue', '--first', '6', '--jobs', '2', ...reports);
    expect(code).toBe(1);
    expect(err.trim()).toMatch(/^steadycone: letter\.mzML: invalid run file: /);
    expect(out).toContain('10 files: 9 keep, 1 not read.');
    expect(out).toContain('Early warning at run_');
    expect(readFileSync(files.svg, 'utf8')).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
    expect(readFileSync(files.html, 'utf8')).toContain('Night of ');
    expect(JSON.parse(readFileSync(files.mzqc, 'utf8')).mzQC.runQualities).toHaveLength(9);
    const second = await call('read', night, '--queue', ...reports);
    expect(second.code).toBe(1);
    expect(second.err).toContain('q.svg; expected a file that does not exist yet, or --force');
  });

  it('reads the folders inside with --deep, and without it says that it left them out', async () => {
    const deep = join(home, 'deep');
    write(deep, 1, 0.05);
    write(join(deep, 'b', 'inner'), 2, 0.05);
    write(join(deep, 'a'), 3, 0.05);
    write(join(deep, '.hidden'), 4, 0.05);
    const flat = await call('read', deep, '--queue', '--no-keep');
    expect(flat.code).toBe(0);
    expect(flat.err).toContain('not read: 2 folders inside with run files; --deep reads them too');
    expect(flat.out).toContain('1 file: 1 keep.');
    const all = await call('read', deep, '--queue', '--no-keep', '--deep', '--json');
    expect(all.err).not.toContain('--deep');
    expect(
      JSON.parse(all.out)
        .files.map((file: { name: string }) => file.name)
        .sort(),
    ).toEqual(['run_1.mzML', 'run_2.mzML', 'run_3.mzML']);
    const only = await call('read', join(deep, 'b'), '--queue', '--no-keep');
    expect(only.code).toBe(1);
    expect(only.err).toContain('one folder inside with run files');
  });

  it('tells a file that breaks off in one line and reads the rest', async () => {
    const cut = join(home, 'cut');
    const whole = readFileSync(write(cut, 1, 0.05));
    write(cut, 2, 0.05);
    writeFileSync(join(cut, 'run_1.mzML'), whole.subarray(0, whole.length - 5000));
    const { code, out, err } = await call('read', cut, '--queue', '--no-keep');
    expect(code).toBe(1);
    expect(err.trim()).toMatch(/^steadycone: run_1\.mzML: breaks off at byte \d+: /);
    expect(out).toMatch(/run_1\.mzML .*\(the file breaks off\)/);
    expect(out).toMatch(/run_2\.mzML .*keep/);
  });

  it('says the same as JSON and CSV, from the bench as from the files', async () => {
    const json = JSON.parse((await call('read', night, '--queue', '--json')).out);
    const fresh = JSON.parse(
      (await call('read', night, '--queue', '--json', '--no-keep', '--jobs', '1')).out,
    );
    const plain = (report: typeof json) => ({
      ...report,
      files: report.files.map((file: object) => ({ ...file, run_id: null, reading_id: null, cached: null })),
    });
    expect(plain(json)).toEqual(plain(fresh));
    expect(
      json.files.every((file: { cached: boolean; refusal: unknown }) => file.cached || file.refusal),
    ).toBe(true);
    const lines = (await call('read', night, '--queue', '--csv')).out.trimEnd().split('\r\n');
    expect(lines).toHaveLength(11);
    expect((await call('bench', 'queues')).out).toContain('night  (9 runs)');
  });

  it('reads every file of a folder with a set-up, in a queue as under watch, and says what is no set-up for it', async () => {
    const folder = join(home, 'gradient');
    mkdirSync(folder);
    writeFileSync(join(folder, 'run_1.mzML'), runWithPressure(7).text);
    const setup = join(home, 'short.yaml');
    writeFileSync(setup, methodSetupText);
    const queue = JSON.parse(
      (await call('read', folder, '--queue', '--no-keep', '--json', '--setup', setup)).out,
    );
    const plain = JSON.parse((await call('read', folder, '--queue', '--no-keep', '--json')).out);
    // The wash begins 3 s after minute 8; scans come every 1.5 s.
    const end = (report: typeof queue) => report.files[0].summary.kept.at(-1).end_s;
    expect(end(queue)).toBeLessThan(485);
    expect(end(plain)).toBeGreaterThan(600);
    const watch = ['read', folder, '--watch', '--once', '--settle', '1', '--every', '1', '--no-keep'];
    const watched = await call(...watch, '--setup', setup);
    expect(watched.code).toBe(0);
    expect(watched.out).not.toBe((await call(...watch)).out);
    const bare = join(home, 'bare.yaml');
    writeFileSync(bare, methodSetupText.replace(/^gradient:[\s\S]*$/m, ''));
    for (const mode of ['--queue', '--watch'])
      expect((await call('read', folder, mode, '--setup', bare)).err).toContain(
        'missing gradient: bare.yaml',
      );
  });

  it('compares two emitters', async () => {
    const { out } = await call('read', night, '--queue', '--against', other);
    expect(out).toContain('Against other');
    expect(out).toMatch(/scatter from scan to scan: night .* %, other .* %; ratio .* times \(95 % range/);
    expect(out).toContain('Each emitter was mounted once');
    // Two folders of one name would be kept as one emitter.
    const twin = join(home, 'twin', 'night');
    write(twin, 1, 0.05);
    expect((await call('read', night, '--queue', '--against', twin)).err).toContain(
      'invalid against: night; expected',
    );
  });

  it('keeps what is done when it is stopped, and goes on from there', async () => {
    const many = join(home, 'many');
    for (let number = 1; number <= 12; number++) write(many, 100 + number, 0.05);
    const child = spawn(process.execPath, [builtProgram, 'read', many, '--queue', '--jobs', '1'], {
      env: { ...process.env, STEADYCONE_HOME: join(home, 'stopped') },
    });
    const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
    let err = '';
    child.stderr.on('data', (piece: Buffer) => {
      err += String(piece);
    });
    // Windows knows no gentle signal: there the process is simply ended.
    const store = join(home, 'stopped', 'bench.sqlite');
    while (!existsSync(store)) await new Promise((resolve) => setTimeout(resolve, 20));
    await new Promise((resolve) => setTimeout(resolve, 250));
    child.kill('SIGINT');
    const code = await ended;
    if (process.platform !== 'win32' && code !== 0) {
      expect(code).toBe(130);
      expect(err).toMatch(
        /stopped: \d+ of 12 files not read; what is read is kept; the same command goes on/,
      );
    }
    const again = await commandHere(['read', many, '--queue', '--json'], { home: join(home, 'stopped') });
    const report = JSON.parse(again.out);
    expect(report.files).toHaveLength(12);
    expect(report.counts.not_read).toBe(0);
  });

  it.each([
    [['read', night, other, '--queue'], 'invalid path: '],
    [['read', home, '--queue'], 'missing run files: '],
    [['read', join(night, 'run_1.mzML'), '--queue'], 'a folder with run files with --queue'],
    [['read', night], 'a folder; expected a run file; for a folder add --queue, --watch or --ready'],
    [['read', night, '--queue', '--jobs', 'many'], 'invalid jobs: many'],
    [['read', night, '--queue', '--first', '2'], 'a whole number from 6 to 100'],
    [['read', night, '--queue', '--label', ' '], 'missing label; expected a name for the queue'],
    [['read', night, '--queue', '--mask', '5-3'], 'invalid mask: 5-3'],
    [['read', night, '--queue', '--watch'], 'invalid options: --queue with --watch'],
    [['read', night, '--label', 'x'], 'it together with --queue or --watch'],
    [['read', night, '--queue', '--json', '--csv'], '--json with --csv'],
  ])('refuses %# in one line', async (args, words) => {
    const { code, out, err } = await call(...args);
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain(words);
  });
});

describe('read --watch', () => {
  it('tells each file once and one alert with its command, and not again after a restart', async () => {
    const told = join(home, 'told.mjs');
    writeFileSync(
      told,
      "const { STEADYCONE_FILE: f, STEADYCONE_ALERT: a } = process.env; process.stdout.write('COMMAND ' + f + ': ' + a + '\\n');",
    );
    const args = [
      'read',
      night,
      '--watch',
      '--once',
      '--settle',
      '1',
      '--every',
      '1',
      '--first',
      '6',
      '--label',
      'watched',
    ];
    const first = alone(...args, '--on-alert', `"${process.execPath}" "${told}"`);
    expect(first.code).toBe(0);
    for (let number = 1; number <= 9; number++) expect(first.out).toContain(`run_${number}.mzML: keep`);
    expect(first.out).toContain('letter.mzML: not read: invalid run file');
    expect(first.out.match(/^ALERT: /gm)).toHaveLength(1);
    expect(first.out).toMatch(/^COMMAND run_\d\.mzML: Early warning at run_/m);
    expect(first.err).toContain('\u0007');
    write(night, 10, 0.16);
    const again = await call(...args, '--json');
    expect(
      again.out
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line).file)
        .sort(),
    ).toEqual(['letter.mzML', 'run_10.mzML']);
    // With other minutes left out every file is judged anew, which is said; the alert was raised and is not again.
    const masked = await call(...args, '--mask', '0-0.5');
    expect(masked.err).toContain('10 files were judged before with another set-up, other minutes left out');
    expect(masked.out.match(/^run_\d+\.mzML: /gm)).toHaveLength(10);
    expect(masked.out).not.toContain('ALERT');
    expect((await call(...args, '--mask', '0-0.5')).err).not.toContain('judged before');
  });

  it('ends with a failure where --once finds no folder', () => {
    const { code, err } = alone('read', join(home, 'nowhere'), '--watch', '--once', '--no-keep');
    expect(code).toBe(1);
    expect(err).toMatch(/^steadycone: missing folder: .*nowhere; expected a folder with run files$/m);
  });
});

describe('read FILE with reports', () => {
  const run = () => join(night, 'run_1.mzML');

  it('names the file of each refusal and leaves an entry for it', async () => {
    const letter = join(night, 'letter.mzML');
    const { code, out, err } = await call(
      'read',
      run(),
      letter,
      join(home, 'none.mzML'),
      '--json',
      '--no-keep',
    );
    expect(code).toBe(1);
    const results = JSON.parse(out);
    expect(results.map((one: { file: string }) => one.file)).toEqual([
      'run_1.mzML',
      'letter.mzML',
      'none.mzML',
    ]);
    expect(results[1].error).toMatch(/^invalid run file/);
    expect(
      err
        .trim()
        .split('\n')
        .map((line) => line.split(': ')[1]),
    ).toEqual(['letter.mzML', 'none.mzML']);
  });

  it('puts the file in front of each row where there are several, under one heading', async () => {
    const { out } = await call('read', run(), join(night, 'run_2.mzML'), '--csv', '--no-keep');
    const lines = out.trimEnd().split('\r\n');
    expect(lines[0]).toMatch(/^file,time_s,/);
    expect(lines.filter((line) => line.startsWith('file,'))).toHaveLength(1);
    expect(new Set(lines.slice(1).map((line) => line.split(',')[0]))).toEqual(
      new Set(['run_1.mzML', 'run_2.mzML']),
    );
  });

  it('writes mzQC, SVG and HTML', () => {
    const [mzqc, svg, html] = ['one.mzQC', 'one.svg', 'one.html'].map((name) => join(home, name)) as [
      string,
      string,
      string,
    ];
    const { code } = alone('read', run(), '--no-keep', '--mzqc', mzqc, '--svg', svg, '--html', html);
    expect(code).toBe(0);
    const { mzQC } = JSON.parse(readFileSync(mzqc, 'utf8'));
    const accessions = mzQC.runQualities[0].qualityMetrics.map(
      (metric: { accession: string }) => metric.accession,
    );
    for (const accession of ['MS:4000097', 'MS:4000186', 'MS:4000131', 'MS:4000211', 'STEADYCONE:0000001'])
      expect(accessions).toContain(accession);
    expect(readFileSync(svg, 'utf8')).toContain('</svg>');
    expect(readFileSync(html, 'utf8')).toContain('What this file cannot decide');
  });

  it('leaves masked minutes out', async () => {
    const { groups, masked, trustworthy } = JSON.parse(
      (await call('read', run(), '--json', '--no-keep', '--mask', '0-1')).out,
    );
    expect(groups).toHaveLength(1);
    expect(masked).toEqual([{ start_s: 0, end_s: 60, reason: 'asked for' }]);
    expect(trustworthy.every((piece: { start_s: number }) => piece.start_s >= 60)).toBe(true);
  });

  it('answers whether the queue may start, with reasons and definitions, and keeps nothing', async () => {
    const { code, out } = alone('read', run(), '--ready');
    expect(code).toBe(0);
    expect(out).toContain('only 119 s with 80 scans to judge; 5 min and 60 scans are needed');
    expect(out).toContain('look first: ');
    expect(out).not.toContain('Kept as');
    expect(JSON.parse((await call('read', run(), '--ready', '--json')).out).ready.state).not.toBe('start');
    // Of a folder the file written to last.
    const lab = join(home, 'lab');
    for (const number of [1, 3, 2]) write(lab, number, 0.05);
    utimesSync(join(lab, 'run_1.mzML'), 2e9, 2e9);
    expect((await call('read', lab, '--ready')).out).toMatch(/^run_1\.mzML\n(Wait|Look first): /);
    expect((await call('read', join(home, 'bench'), '--ready')).err).toContain('missing run files');
  });

  it('reads a voltage walk by its steps', async () => {
    const steps = join(home, 'steps.csv');
    writeFileSync(steps, 'time_min,voltage_V\n0,1400\n0.5,1450\n1,1500\n1.5,1550\n');
    const { code, out } = await call('read', run(), '--steps', steps, '--voltage-at', 'supply', '--no-keep');
    expect(code).toBe(0);
    expect(out).toContain('Voltage walk, voltage at the supply');
    expect(out).toContain('1550 V: ');
    expect((await call('read', run(), '--steps', join(home, 'no.csv'))).err).toContain(
      'missing step table: no.csv',
    );
  });
});

describe('slips in the command', () => {
  it.each([
    [['read', '--spoon'], 'unknown option: --spoon; expected'],
    [['raed'], 'unknown command: raed; expected read, or one that --help lists'],
    [['read'], 'missing argument: path; expected'],
    [['plan', 'a', 'b'], 'invalid arguments: too many; expected'],
    [['read', '--label'], 'missing value: --label <text>; expected'],
  ])('%# is one line in the one grammar', async (args, line) => {
    const { code, err } = await call(...args);
    expect(code).toBe(1);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain(`steadycone: ${line}`);
  });

  it('leaves help and version as they are', async () => {
    expect(alone('--version')).toMatchObject({ code: 0, out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/) });
    expect(await call('read', '--help')).toMatchObject({ code: 0, out: expect.stringContaining('--queue') });
    expect((await call('bench', 'note', '--help')).out).toContain('an emitter, set-up, plan, run or reading');
  });
});
