/** `steadycone trace` as a person calls it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { commandAlone, commandHere } from '../kit/built-command.ts';
import { exampleTraces } from '../kit/example-traces.ts';
import { faultyTraces, NO_CURRENT } from '../kit/faulty-traces.ts';
import { type Bare, flat, madeTrace, pulsating, step } from '../kit/made-traces.ts';

const root = join(import.meta.dirname, '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'steadycone-trace-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const setup = join(root, 'examples', 'gradient-proteomics.yaml');
const RATE = 10_000;

const call = (...args: string[]) => commandHere(['trace', ...args]);
const alone = (...args: string[]) => commandAlone(['trace', ...args]);

function samplesOf(bare: Bare, length_s = 2): Float64Array {
  return madeTrace(bare, { rate_Hz: RATE, length_s, seed: 8 });
}

function table(name: string, bare: Bare, volts?: (k: number) => number): string {
  const rows = Array.from(
    samplesOf(bare),
    (x, k) => `${(k / RATE).toFixed(4)},${(x * 1e9).toFixed(3)}${volts ? `,${volts(k)}` : ''}`,
  );
  return file(name, `# invented\ntime_s,current_nA${volts ? ',voltage_V' : ''}\n${rows.join('\n')}\n`);
}

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

describe('reading', () => {
  it('names the regime, marks invented data, never says steady without a bandwidth', () => {
    const { code, out } = alone(table('flat.csv', flat(120e-9)));
    expect(code).toBe(0);
    expect(out).toContain('INVENTED DATA');
    expect(out).toContain('steady below 5 kHz at most; faster pulsation not excluded');
    expect(out).toContain('would decide');
    expect(out).not.toContain('steady cone-jet');
  });

  it('as JSON, CSV and SVG, with the plan of a set-up', async () => {
    const svg = join(folder, 'pulse.svg');
    const path = table('pulse.csv', pulsating(400, 60e-9));
    const { code, out } = await call(
      path,
      '--json',
      '--setup',
      setup,
      '--resistor_MOhm',
      '4.7',
      '--capacitance_pF',
      '10',
      '--svg',
      svg,
    );
    expect(code).toBe(0);
    const reading = JSON.parse(out);
    expect(reading.bandwidth.value_Hz).toBeCloseTo(3386, 0);
    expect(reading.timeline[0].regime).toBe('pulsating');
    expect(reading.comparison.calibrated).toBe(false);
    expect(readFileSync(svg, 'utf8')).toContain('decidable up to here');
    const csv = (await call(path, '--csv')).out.trim().split('\r\n');
    expect(csv.length).toBe(1 + reading.windows.length);
  });

  it('raw samples by the sidecar beside them, and WAV by its scale', async () => {
    const x = samplesOf(flat(120e-9), 1);
    const path = file('samples.bin', new Uint8Array(Float32Array.from(x, (v) => v * 1e9).buffer));
    file(
      'samples.bin.json',
      JSON.stringify({
        format: 'float32',
        rate_Hz: RATE,
        bandwidth_Hz: 2000,
        channels: [{ quantity: 'current', unit: 'nA', scale: 1 }],
      }),
    );
    expect((await call(path)).out).toContain('steady below 2 kHz; faster pulsation not excluded');
    const wav = new DataView(new ArrayBuffer(44 + 2 * x.length));
    [...'RIFF....WAVEfmt '].forEach((c, i) => {
      wav.setUint8(i, c.charCodeAt(0));
    });
    for (const [at, value] of [
      [16, 16],
      [24, RATE],
      [28, 2 * RATE],
      [40, 2 * x.length],
    ] as const)
      wav.setUint32(at, value, true);
    for (const [at, value] of [
      [20, 1],
      [22, 1],
      [32, 2],
      [34, 16],
    ] as const)
      wav.setUint16(at, value, true);
    [...'data'].forEach((c, i) => {
      wav.setUint8(36 + i, c.charCodeAt(0));
    });
    x.forEach((v, k) => {
      wav.setInt16(44 + 2 * k, v * 1e9 * 100, true);
    });
    const sound = file('samples.wav', new Uint8Array(wav.buffer));
    expect((await call(sound)).err).toMatch(/missing scale of the WAV file/);
    expect((await call(sound, '--full-scale_nA', '327.68')).out).toContain('mean 120 nA');
  });

  it('turns a negative trace and says so', async () => {
    expect((await call(table('negative.csv', flat(-120e-9)))).out).toMatch(
      /mean 120 nA[\s\S]*its sign was turned/,
    );
  });

  it('tells a second jet by its step, once the steady reading is known', async () => {
    const { out } = await call(
      table('jet.csv', step(150e-9, Math.SQRT2, 0.3)),
      '--setup',
      setup,
      '--steady_nA',
      '150',
    );
    expect(out).toMatch(/a jet was born/);
    expect(out).toMatch(/second jet likeliest/);
  });
});

describe('the examples', () => {
  const example = (name: string) => join(root, 'examples', name);

  it('are what their generator makes', () => {
    const made = Object.entries(exampleTraces());
    expect(made.length).toBe(4);
    for (const [name, text] of made) expect(readFileSync(example(name), 'utf8')).toBe(text);
  });

  it('read as they say', async () => {
    const said = async (name: string, ...args: string[]) => (await call(example(name), ...args)).out;
    expect(await said('trace-pulsation.csv')).toMatch(/INVENTED[\s\S]*pulsating[\s\S]*intermittent bursts/);
    expect(await said('trace-second-jet.csv')).toMatch(/1\.41 times[\s\S]*a jet was born/);
    expect(await said('trace-walk.csv', '--walk', 'channel', '--voltage-at', 'supply')).toMatch(
      /Going up: steady as far as seen from between 1500 and 1600 V to between 1800 and 1900 V/,
    );
    expect(await said('trace-resistor-mV.csv', '--resistor_MOhm', '4.7', '--capacitance_pF', '100')).toMatch(
      /mean 120 nA[\s\S]*Mains pick-up at 50 Hz, 4(\.\d+)? nA/,
    );
  });
});

describe('what is wrong with a recording', () => {
  it.each(faultyTraces())('is read and said: $name', async ({ name, text, said }) => {
    const { code, out } = await call(file(name, text));
    expect(code).toBe(0);
    expect(out).toMatch(said);
  });

  it.each([
    ['no-current.csv', NO_CURRENT, /missing column of the current.*--column/],
    ['no-unit.csv', 'time_s,current\n0,1\n1,2\n', /missing unit of the current.*--unit/],
    ['ways.csv', '0,5\n1,6\n2,7\n', /can be read in 2 ways; expected --delimiter/],
  ])('is refused in one line with the option that answers it: %s', (name, text, said) => {
    const { code, err } = alone(file(name, text));
    expect(code).toBe(1);
    expect(err).toMatch(said);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('takes the worth of a step that the sidecar does not say', async () => {
    const path = file(
      'bare.bin',
      new Uint8Array(Int16Array.from(samplesOf(flat(120e-9), 1), (v) => v * 1e11).buffer),
    );
    const channels = [{ quantity: 'current', unit: 'nA' }];
    file('bare.bin.json', JSON.stringify({ format: 'int16', rate_Hz: RATE, channels }));
    expect((await call(path)).err).toMatch(/missing sidecar.channels.0.scale.*--step/);
    expect((await call(path, '--step', '0.01')).out).toContain('mean 120 nA');
  });
});

describe('walks', () => {
  it('draws the walks below the trace', async () => {
    const svg = join(folder, 'walk.svg');
    const { code } = await call(join(root, 'examples', 'trace-walk.csv'), '--walk', 'channel', '--svg', svg);
    expect(code).toBe(0);
    expect(readFileSync(svg, 'utf8')).toMatch(
      /1700 V[\s\S]*Voltage walk[\s\S]*steady, up[\s\S]*steady, down/,
    );
  });

  it('reads the logged voltage and writes rows for a plan', async () => {
    const x = [flat(0.2e-9), pulsating(400, 60e-9), flat(150e-9), flat(155e-9), flat(230e-9)];
    const stairs: Bare = (random, samples, rate) => {
      const size = samples.length / x.length;
      for (const [i, bare] of x.entries()) bare(random, samples.subarray(i * size, (i + 1) * size), rate);
    };
    const path = table('walk.csv', stairs, (k) => 1000 + 100 * Math.floor(k / (RATE * 0.4)));
    const rows = join(folder, 'rows.yaml');
    const { code, out } = await call(
      path,
      '--walk',
      'channel',
      '--voltage-at',
      'supply',
      '--window',
      '0.05',
      '--observe-out',
      rows,
    );
    expect(code).toBe(0);
    expect(out).toContain('Going up: the spray begins between 1000 and 1100 V.');
    expect(readFileSync(rows, 'utf8')).toMatch(/supply_V: 1200, seen: steady/);
    expect((await commandHere(['plan', setup, '--observe', rows, '--no-keep'])).code).toBe(0);
    expect((await call(path, '--walk', 'channel', '--observe-out', rows)).err).toMatch(/invalid output file/);
  });

  it('fits a flow walk and infers the conductivity', async () => {
    const flows = file('flows.csv', 'flow_nL_min,current_nA\n50,40\n100,56\n200,81\n400,113\n');
    const { out } = await call(table('any.csv', flat(80e-9)), '--flow-walk', flows, '--setup', setup);
    expect(out).toMatch(/to the power 0\.5/);
    expect(out).toMatch(/Conductivity from/);
  });
});

it.each([
  [['missing.csv'], /missing trace file/],
  [['FILE', '--rate', '-1'], /out of range --rate: -1/],
  [['FILE', '--delimiter', 'pipe'], /unknown --delimiter: pipe; expected one of comma/],
  [['FILE', '--json', '--csv'], /invalid options/],
  [['FILE', '--column', 'nope'], /unknown column for --column: nope/],
  [['FILE', '--capacitance_pF', '10'], /missing --resistor_MOhm/],
  [['FILE', '--observe-out', 'x.yaml'], /missing --walk/],
  [['FILE', '--walk', 'channel'], /missing voltage of the walk/],
] as const)('refuses %j in one line', async (args, line) => {
  const path = table('refused.csv', flat(1e-7));
  const { code, err } = await call(...args.map((a) => (a === 'FILE' ? path : a)));
  expect(code).toBe(1);
  expect(err).toMatch(line);
  expect(err.trim().split('\n')).toHaveLength(1);
});
