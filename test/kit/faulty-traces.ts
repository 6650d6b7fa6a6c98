/** Traces with one fault each, invented and seeded: command line and page must read or refuse each, and say what is wrong. */
import { randomStream } from '../../src/core/random.ts';

export interface FaultyTrace {
  name: string;
  text: string;
  /** The words in which both say it. */
  said: RegExp;
}

const RATE = 1000;
const SAMPLES = 4000;

export function faultyTraces(): FaultyTrace[] {
  const random = randomStream(12, 'faulty traces');
  const noise = Array.from({ length: SAMPLES }, () => random.normal());
  const table = (heading: string, value: (k: number) => string | number, time = (k: number) => k / RATE) =>
    `# invented\ntime_s,${heading}\n${noise.map((_, k) => `${time(k).toFixed(3)},${value(k)}`).join('\n')}\n`;
  const flat = (k: number) => (120 + 0.4 * noise[k]!).toFixed(3);
  return [
    {
      name: 'wrong-unit.csv',
      text: table('current_mA', flat),
      said: /no nanoelectrospray carries so much.*unit/i,
    },
    {
      name: 'clipped.csv',
      text: table('current_nA', (k) => Math.min(100, 80 + 40 * Math.sin(k / 9) + 0.4 * noise[k]!).toFixed(2)),
      said: /Clipped at 100 nA/,
    },
    {
      name: 'nan.csv',
      text: table('current_nA', (k) => (k % 40 === 7 ? 'NaN' : flat(k))),
      said: /100 of 4000 samples have no number/,
    },
    {
      name: 'gaps.csv',
      text: table('current_nA', flat, (k) => k / RATE + (k >= SAMPLES / 2 ? 2 : 0)),
      said: /One gap in time/,
    },
    {
      name: 'coarse-steps.csv',
      text: table('current_nA', (k) => 5 * Math.round((120 + 1.5 * noise[k]!) / 5)),
      said: /steps of 5 nA are coarser than the noise/,
    },
    { name: 'reversed.csv', text: table('current_nA', (k) => `-${flat(k)}`), said: /its sign was turned/ },
  ];
}

/** No column of a current at all: nothing may be taken in its place. */
export const NO_CURRENT = 'time_s,temp_K\n0,293\n1,294\n2,293\n';
