/** The invented traces of examples/: made here, held to these by a test. `npx tsx test/kit/write-example-traces.ts` writes them. */
import { type Bare, bursts, flat, madeTrace, pulsating, step, unsteady } from './made-traces.ts';

const NA = 1e-9;

const MARK =
  '# INVENTED: made by a seeded program, not a measurement; no real lab, emitter or person stands behind it.';

/** Name of the file and its text. */
export function exampleTraces(): Record<string, string> {
  return {
    'trace-pulsation.csv': table('a meniscus that pulsates at 2 kHz, then in trains', 20_000, [
      [0.2, pulsating(2000, 70 * NA, 0.3, 0.05)],
      [0.2, bursts(40, 2500, 30 * NA)],
    ]),
    'trace-second-jet.csv': table('a steady jet; a second one is born at 1 s', 2000, [
      [2, step(150 * NA, Math.SQRT2)],
    ]),
    'trace-walk.csv': walk(),
    'trace-resistor-mV.csv': resistor(),
  };
}

function table(what: string, rate_Hz: number, parts: readonly [number, Bare][]): string {
  const rows: string[] = [];
  for (const [i, [length_s, bare]] of parts.entries())
    for (const x of madeTrace(bare, { rate_Hz, length_s, seed: 100 + i, noise: 0.4 * NA }))
      rows.push(`${Number((rows.length / rate_Hz).toFixed(6))},${(x * 1e9).toFixed(1)}`);
  return `${MARK}\n# ${what}\ntime_s,current_nA\n${rows.join('\n')}\n`;
}

function walk(): string {
  const rate_Hz = 1000;
  const stairs: [number, Bare][] = [
    [1300, flat(0.3 * NA)],
    [1400, pulsating(90, 60 * NA, 0.2)],
    [1500, pulsating(140, 85 * NA, 0.2)],
    [1600, flat(150 * NA)],
    [1700, flat(155 * NA)],
    [1800, flat(160 * NA)],
    [1900, unsteady(165 * NA, 0.1)],
    [1800, flat(160 * NA)],
    [1700, flat(154 * NA)],
    [1600, flat(149 * NA)],
    [1500, flat(144 * NA)],
    [1400, pulsating(100, 60 * NA, 0.2)],
    [1300, flat(0.3 * NA)],
  ];
  const rows: string[] = [];
  for (const [i, [volts, bare]] of stairs.entries())
    for (const x of madeTrace(bare, { rate_Hz, length_s: 0.5, seed: 200 + i }))
      rows.push(`${(rows.length / rate_Hz).toFixed(3)},${(x * 1e9).toFixed(1)},${(volts / 1000).toFixed(2)}`);
  return `${MARK}\n# the supply walked up and down in steps of 100 V\ntime_s,current_nA,supply_kV\n${rows.join('\n')}\n`;
}

/** A semicolon table with decimal commas: the voltage across 4.7 MΩ, with mains. */
function resistor(): string {
  const rate_Hz = 1000;
  const x = madeTrace(flat(120 * NA), {
    rate_Hz,
    length_s: 2,
    seed: 300,
    mains: { frequency_Hz: 50, amplitude: 4 * NA },
  });
  const rows = Array.from(x, (i, k) =>
    `${(k / rate_Hz).toFixed(3)};${(i * 4.7e6 * 1000).toFixed(1)}`.replaceAll('.', ','),
  );
  return `${MARK}\n# the voltage across 4,7 MOhm in the ground return, with mains on it\ntime (s);current (mV)\n${rows.join('\n')}\n`;
}
