/** Counts of a set of read traces: confusion of windows and of traces, reliability of stated probabilities, false claims of 'steady'. */
import type { CurrentReading, Regime } from '../../src/evidence/current/index.ts';
import { fittedTable, type Stated } from './fit-table.ts';
import { decidableParts, type ProofTrace, rightNames, TRUE_REGIMES, type TrueRegime } from './proof-trace.ts';

type Row = Map<Regime, number>;
interface Bin {
  stated: number;
  right: number;
  count: number;
}

export interface Score {
  add(trace: ProofTrace, reading: CurrentReading): { wrong: number; of: number; named: string };
  lines(): string[];
}

const BINS = [0, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 1.0001];
const PULSES: readonly TrueRegime[] = ['pulsating', 'intermittent bursts'];
/** A window belongs to a part where it lies in it to this [s]. */
const SLACK_S = 1e-6;

export function scoring(): Score {
  const windows = new Map<TrueRegime, Row>();
  const traces = new Map<TrueRegime, Row>();
  const bins: Bin[] = BINS.slice(1).map(() => ({ stated: 0, right: 0, count: 0 }));
  const n = {
    first4: 0,
    first4Right: 0,
    windows: 0,
    decidable: 0,
    right: 0,
    parts: 0,
    partsDecidable: 0,
    partsRight: 0,
  };
  const stated: Stated[] = [];
  const steady = { said: 0, could: 0, bare: 0, hidden: 0 };

  return {
    add(trace, reading) {
      const names: string[] = [];
      let wrong = 0;
      let of = 0;
      const decidables = decidableParts(trace, reading.window_s);
      const first4 = decidableParts(trace, reading.window_s, true);
      for (const [i, part] of trace.parts.entries()) {
        const own = reading.windows.filter(
          (w) => w.start_s >= part.from_s - SLACK_S && w.end_s <= part.to_s + SLACK_S,
        );
        if (own.length === 0) continue;
        const decidable = decidables[i]!;
        const right = rightNames(trace, part);
        const bare = reading.decidability.decides;
        n.parts++;
        n.windows += own.length;
        const shares = new Map<Regime, number>();
        for (const w of own) {
          const p = w.probabilities[w.regime];
          shares.set(w.regime, (shares.get(w.regime) ?? 0) + 1);
          if (PULSES.includes(part.regime)) {
            if (decidable) steady.could++;
            else steady.hidden++;
            if (w.regime === 'steady' && decidable) steady.said++;
            if (w.regime === 'steady' && !decidable && bare) steady.bare++;
          }
          const ok = right.includes(w.regime);
          if (first4[i]) {
            n.first4++;
            if (ok) n.first4Right++;
          }
          if (!decidable) continue;
          n.decidable++;
          of++;
          if (ok) n.right++;
          else wrong++;
          const bin = bins[BINS.findIndex((edge) => p < edge) - 1]!;
          bin.count++;
          bin.stated += p;
          if (ok) bin.right++;
          stated.push({ stated: p, right: ok, weight: 1 / Math.sqrt(own.length) });
          count(windows, part.regime, ok ? right[0]! : w.regime);
        }
        const [named] = [...shares].sort((a, b) => b[1] - a[1])[0]!;
        names.push(named);
        if (!decidable) continue;
        n.partsDecidable++;
        const ok = right.includes(named);
        if (ok) n.partsRight++;
        count(traces, part.regime, ok ? right[0]! : named);
      }
      return { wrong, of, named: names.join(', ') };
    },
    lines() {
      const share = (a: number, b: number) => `${((100 * a) / Math.max(1, b)).toFixed(1)} %`;
      return [
        `  windows: decidable ${n.decidable} of ${n.windows}; right ${share(n.right, n.decidable)}`,
        `  by points 1 to 4 of the rule alone: ${n.first4}; right ${share(n.first4Right, n.first4)}`,
        `  traces (parts of one regime): decidable ${n.partsDecidable} of ${n.parts}; right ${share(n.partsRight, n.partsDecidable)}`,
        `  'steady' on windows of a pulsation that could have been seen: ${steady.said} of ${steady.could}; bare 'steady' on one that could not: ${steady.bare} of ${steady.hidden}`,
        '  confusion of windows:',
        ...table(windows),
        '  confusion of traces:',
        ...table(traces),
        `  reliability of windows, stated -> right: ${bins
          .filter((b) => b.count > 0)
          .map((b) => `${share(b.stated, b.count)} -> ${share(b.right, b.count)} (${b.count})`)
          .join('; ')}`,
        `  mean distance of stated from right: ${share(distance(bins), 1)}`,
        `  a table fitted on these: ${fittedTable(stated)
          .map((b) => `${b.stated.toFixed(3)} -> ${b.right.toFixed(3)} (${b.weight.toFixed(1)} parts)`)
          .join('; ')}`,
      ];
    },
  };
}

function distance(bins: readonly Bin[]): number {
  const all = bins.reduce((s, b) => s + b.count, 0);
  return bins.reduce((s, b) => s + Math.abs(b.stated - b.right), 0) / Math.max(1, all);
}

function count(rows: Map<TrueRegime, Row>, truth: TrueRegime, named: Regime): void {
  const row = rows.get(truth) ?? new Map<Regime, number>();
  row.set(named, (row.get(named) ?? 0) + 1);
  rows.set(truth, row);
}

function table(rows: Map<TrueRegime, Row>): string[] {
  return TRUE_REGIMES.flatMap((truth) => {
    const row = rows.get(truth);
    if (!row) return [];
    const total = [...row.values()].reduce((a, b) => a + b, 0);
    const parts = [...row].sort((a, b) => b[1] - a[1]).map(([name, k]) => `${name} ${k}`);
    return [`    ${truth.padEnd(20)} ${String(total).padStart(5)}: ${parts.join(', ')}`];
  });
}
