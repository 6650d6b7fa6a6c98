/**
 * How well the reading of a current trace names regimes: traces by a generator that the reading was not tuned on, through
 * modelled meters of random rate and bandwidth. A window is decidable where what names its regime lies below the lower of
 * bandwidth and half the rate and is met several times in it. Prints the confusion matrix of decidable traces, the claims of
 * 'steady' on pulsating ones, and a reliability table. Rehearsed data, no measurements. TRACES: how many of each regime; SEED.
 */
import { currentStream, givenBandwidth } from '../src/core/signal/index.ts';
import { REGIMES, type Regime, readCurrent } from '../src/evidence/current/index.ts';
import { type ProofTrace, proofTrace, TRUE_REGIMES, type TrueRegime } from './regime/second-generator.ts';

const TRACES = Number(process.env.TRACES ?? 40);
const SEED = Number(process.env.SEED ?? 9000);
const BLOCK = 1 << 14;
/** What names a regime must be met so often in a trace. */
const LEAST_TIMES = 4;
/** Room above the fastest feature that a line needs to stand out. */
const ROOM = 1.25;
const say = (line: string) => process.stdout.write(`${line}\n`);

const TRUE_NAME: Record<TrueRegime, Regime> = {
  'no spray': 'no spray',
  'leak only': 'leak only',
  dripping: 'dripping',
  pulsating: 'pulsating',
  'intermittent bursts': 'intermittent bursts',
  'steady cone-jet': 'steady',
  'unsteady jet': 'unsteady jet',
  'several jets': 'several jets',
  'corona or arc': 'discharge',
};

for (const told of [true, false]) {
  say(
    `\nBandwidth ${told ? 'told to the reading' : 'not told'}; ${TRACES} traces of each regime, seeds from ${SEED}`,
  );
  const counts = new Map<TrueRegime, Map<Regime, number>>();
  const bins = Array.from({ length: 10 }, () => ({ stated: 0, right: 0, count: 0 }));
  let decidable = 0;
  let right = 0;
  let falseSteady = 0;
  let couldShow = 0;
  let unsaid = 0;
  for (const regime of TRUE_REGIMES)
    for (let k = 0; k < TRACES; k++) {
      const trace = proofTrace(SEED + k, regime);
      const { named, probability, label } = readOf(trace, told);
      const seen = isDecidable(trace);
      const pulses = regime === 'pulsating' || regime === 'intermittent bursts';
      if (pulses && seen) {
        couldShow++;
        if (/^steady/.test(label)) falseSteady++;
      }
      if (pulses && !seen && label === 'steady') unsaid++;
      if (!seen) continue;
      decidable++;
      // A tip that does not spray beside mains or a pump: both names are true.
      const ok = named === TRUE_NAME[regime] || (named === 'pick-up' && isQuiet(trace));
      if (ok) right++;
      const bin = bins[Math.min(9, Math.floor(probability * 10))]!;
      bin.count++;
      bin.stated += probability;
      bin.right += ok ? 1 : 0;
      const row = counts.get(regime) ?? new Map<Regime, number>();
      row.set(named, (row.get(named) ?? 0) + 1);
      counts.set(regime, row);
    }
  say(
    `  decidable ${decidable} of ${TRACES * TRUE_REGIMES.length}; right ${((100 * right) / decidable).toFixed(1)} %`,
  );
  say(
    `  'steady' on a pulsating trace that could have shown it: ${falseSteady} of ${couldShow}; bare 'steady' on one that could not: ${unsaid}`,
  );
  for (const regime of TRUE_REGIMES) {
    const row = counts.get(regime);
    if (row === undefined) continue;
    const total = [...row.values()].reduce((a, b) => a + b, 0);
    const parts = [...row].sort((a, b) => b[1] - a[1]).map(([name, count]) => `${name} ${count}`);
    say(`  ${regime.padEnd(20)} ${String(total).padStart(4)}: ${parts.join(', ')}`);
  }
  say('  reliability (stated -> right):');
  for (const bin of bins)
    if (bin.count > 0)
      say(
        `    ${((100 * bin.stated) / bin.count).toFixed(0)} % -> ${((100 * bin.right) / bin.count).toFixed(0)} % (${bin.count})`,
      );
}
say(`\nregimes the reading knows: ${REGIMES.join(', ')}`);

function readOf(trace: ProofTrace, told: boolean): { named: Regime; probability: number; label: string } {
  const stream = currentStream({
    rate_Hz: trace.rate_Hz,
    start_s: 0,
    window_s: undefined,
    expected_samples: trace.current_nA.length,
  });
  const block = new Float64Array(BLOCK);
  for (let at = 0; at < trace.current_nA.length; at += BLOCK) {
    const count = Math.min(BLOCK, trace.current_nA.length - at);
    for (let k = 0; k < count; k++) block[k] = trace.current_nA[at + k]! * 1e-9;
    stream.push(block, count);
  }
  const single = trace.single_nA * 1e-9;
  const reading = readCurrent(stream.end(), {
    ...(told ? { bandwidth: givenBandwidth(trace.bandwidth_Hz, 'given') } : {}),
    expected: { current_A: single, low_A: single / 2, high_A: single * 2, calibrated: false },
  });
  const named = REGIMES.reduce((a, b) => (reading.shares[b] > reading.shares[a] ? b : a));
  const longest = [...reading.timeline].sort((a, b) => b.end_s - b.start_s - (a.end_s - a.start_s))[0];
  return { named, probability: reading.shares[named], label: longest?.label ?? named };
}

function isQuiet({ regime, pickup }: ProofTrace): boolean {
  return (regime === 'no spray' || regime === 'leak only') && pickup !== 'none';
}

function isDecidable(trace: ProofTrace): boolean {
  const sees = Math.min(trace.bandwidth_Hz, trace.rate_Hz / 2);
  const seconds = trace.current_nA.length / trace.rate_Hz;
  if (trace.fastest_Hz === 0) return true;
  return trace.fastest_Hz * ROOM < sees && trace.slowest_Hz * seconds >= LEAST_TIMES;
}
