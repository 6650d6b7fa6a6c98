/**
 * How well the reading of a current trace names regimes. Two sets of rehearsed traces through modelled meters of random rate and
 * bandwidth: the tuning set (first generator, the rehearsal's own parts), on which thresholds and probabilities were set, and the reporting set
 * (second generator, written from other descriptions), which only reports. What counts as decidable: regime/proof-trace.ts.
 * Neither is a measurement. TRACES: of each regime and set; SET: tuning or reporting; SEED: first seed; SHOW=1 lists wrong traces.
 */
import { type CurrentStatistics, currentStream, givenBandwidth } from '../src/core/signal/index.ts';
import { readCurrent } from '../src/evidence/current/index.ts';
import { tuningTrace } from './regime/first-generator.ts';
import { type ProofTrace, TRUE_REGIMES, type TrueRegime } from './regime/proof-trace.ts';
import { scoring } from './regime/score.ts';
import { proofTrace } from './regime/second-generator.ts';

const TRACES = Number(process.env.TRACES ?? 40);
const BLOCK = 1 << 14;
const say = (line: string) => process.stdout.write(`${line}\n`);

const SETS: { name: string; seed: number; make: (seed: number, regime: TrueRegime) => ProofTrace }[] = [
  { name: 'tuning', seed: 1000, make: tuningTrace },
  { name: 'reporting', seed: 70000, make: proofTrace },
];

for (const set of SETS) {
  if (process.env.SET !== undefined && process.env.SET !== set.name) continue;
  const seed = Number(process.env.SEED ?? set.seed);
  const scores = { told: scoring(), untold: scoring() };
  for (const regime of TRUE_REGIMES) {
    if (process.env.ONLY !== undefined && process.env.ONLY !== regime) continue;
    for (let k = 0; k < TRACES; k++) {
      const trace = set.make(seed + k, regime);
      const statistics = statisticsOf(trace);
      const bandwidth = givenBandwidth(trace.bandwidth_Hz, 'given');
      const single = trace.single_nA * 1e-9;
      const expected = { current_A: single, low_A: single / 2, high_A: single * 2, calibrated: false };
      const told = scores.told.add(trace, readCurrent(statistics, { expected, bandwidth }));
      scores.untold.add(trace, readCurrent(statistics, { expected }));
      if (process.env.SHOW && told.wrong > 0)
        say(
          `  ${regime} seed ${seed + k}: ${told.wrong} of ${told.of} wrong, named ${told.named}; ${trace.rate_Hz} S/s, ${trace.bandwidth_Hz.toFixed(0)} Hz, ${(trace.current_nA.length / trace.rate_Hz).toFixed(2)} s, single ${trace.single_nA.toFixed(0)} nA, hum ${trace.hum_nA.toFixed(1)}, ${trace.parts
            .map((p) => `${p.regime} ${p.feature.fastest_Hz.toPrecision(3)} Hz`)
            .join(' then ')}`,
        );
    }
  }
  for (const [name, score] of Object.entries(scores)) {
    say(
      `\n${set.name} set, bandwidth ${name === 'told' ? 'told' : 'not told'}; ${TRACES} traces of each regime, seeds from ${seed}`,
    );
    for (const line of score.lines()) say(line);
  }
}

function statisticsOf(trace: ProofTrace): CurrentStatistics {
  const { current_nA, rate_Hz } = trace;
  const stream = currentStream({
    rate_Hz,
    start_s: 0,
    window_s: undefined,
    expected_samples: current_nA.length,
  });
  const block = new Float64Array(BLOCK);
  for (let at = 0; at < current_nA.length; at += BLOCK) {
    const count = Math.min(BLOCK, current_nA.length - at);
    for (let k = 0; k < count; k++) block[k] = current_nA[at + k]! * 1e-9;
    stream.push(block, count);
  }
  return stream.end();
}
