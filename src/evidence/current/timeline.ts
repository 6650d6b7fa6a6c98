/**
 * Windows of one regime joined to stretches. A single doubtful window (below DOUBT) between others of one regime takes theirs. How many jets: from the
 * calibrated current of one, n = (I/I1)², or from the step that began the stretch (2 after 1.41 if one stood before).
 */

import { median } from '../../core/numeric/robust.ts';
import { type Decidability, frequencyText } from '../../core/signal/index.ts';
import type { RegimeStretch, RegimeWindow } from './current-reading.ts';
import { chargeText, currentText, regimeLabel } from './labels.ts';
import { type ExpectedCurrent, REGIMES, type Regime } from './regimes.ts';
import { type LevelStep, stepsIn } from './steps.ts';

const DOUBT = 0.65;

export function timelineOf(
  windows: readonly RegimeWindow[],
  decides: Decidability,
  expected: ExpectedCurrent | undefined,
  steps: readonly LevelStep[],
): RegimeStretch[] {
  const regimes = smoothed(windows);
  const stretches: RegimeStretch[] = [];
  let from = 0;
  for (let i = 1; i <= windows.length; i++) {
    const parted =
      i === windows.length ||
      regimes[i] !== regimes[from] ||
      windows[i]!.start_s > windows[i - 1]!.end_s + 1e-6;
    if (!parted) continue;
    stretches.push(stretchOf(windows.slice(from, i), regimes[from]!, decides, expected, steps));
    from = i;
  }
  return stretches;
}

function smoothed(windows: readonly RegimeWindow[]): Regime[] {
  const regimes = windows.map((w) => w.regime);
  for (let i = 1; i + 1 < windows.length; i++) {
    const side = regimes[i - 1]!;
    if (
      regimes[i] !== side &&
      windows[i + 1]!.regime === side &&
      windows[i]!.probabilities[regimes[i]!] < DOUBT
    )
      regimes[i] = side;
  }
  return regimes;
}

function stretchOf(
  windows: readonly RegimeWindow[],
  regime: Regime,
  decides: Decidability,
  expected: ExpectedCurrent | undefined,
  steps: readonly LevelStep[],
): RegimeStretch {
  const mean = (name: Regime) => windows.reduce((s, w) => s + w.probabilities[name], 0) / windows.length;
  const next = REGIMES.filter((name) => name !== regime).reduce((a, b) => (mean(b) > mean(a) ? b : a));
  const level_nA = median(windows.map((w) => w.level_nA));
  const fifth = Math.max(1, Math.floor(windows.length / 5));
  // A window that holds a step has the level of neither side.
  const whole = windows.filter((w) => !stepsIn(steps, w.start_s, w.end_s));
  const held = whole.length > 0 ? whole : windows;
  const first = median(held.slice(0, fifth).map((w) => w.level_nA));
  const last = median(held.slice(-fifth).map((w) => w.level_nA));
  const frequencies = windows.flatMap((w) => w.frequency_Hz ?? []);
  const periodic = regime === 'pulsating' || regime === 'dripping' || regime === 'intermittent bursts';
  const frequency_Hz = periodic && frequencies.length > windows.length / 4 ? median(frequencies) : null;
  const charges = windows.flatMap((w) => w.charge_pC ?? []);
  const charge_pC = frequency_Hz !== null && charges.length > 0 ? median(charges) : null;
  const volts = windows.flatMap((w) => w.voltage_V ?? []);
  const start_s = windows[0]!.start_s;
  const end_s = windows.at(-1)!.end_s;
  const jets =
    regime === 'several jets' ? jetsOf(level_nA, start_s, windows[0]!.end_s, expected, steps) : null;
  const label = regimeLabel(regime, decides);
  const stretch: RegimeStretch = {
    start_s,
    end_s,
    regime,
    label,
    probability: mean(regime),
    next,
    next_probability: mean(next),
    level_nA,
    end_nA: last,
    ratio: expected ? (level_nA * 1e-9) / expected.current_A : null,
    drift: level_nA === 0 ? 0 : (last - first) / Math.abs(level_nA),
    frequency_Hz,
    charge_pC,
    jets,
    voltage_V: volts.length > 0 ? { low: Math.min(...volts), high: Math.max(...volts) } : null,
    sentence: '',
  };
  stretch.sentence = sentenceOf(stretch, decides);
  return stretch;
}

function jetsOf(
  level_nA: number,
  start_s: number,
  firstEnd_s: number,
  expected: ExpectedCurrent | undefined,
  steps: readonly LevelStep[],
): number | null {
  if (expected?.calibrated) {
    const n = Math.round(((level_nA * 1e-9) / expected.current_A) ** 2);
    return n >= 2 && n <= 12 ? n : null;
  }
  const born = steps.find(
    (s) => Math.abs(s.at_s - start_s) < firstEnd_s - start_s + 1e-9 && s.after_A > s.before_A,
  );
  if (!born) return null;
  const ratio = born.after_A / born.before_A;
  for (const n of [2, 3, 4]) if (Math.abs(ratio / Math.sqrt(n) - 1) < 0.045) return n;
  return null;
}

function sentenceOf(s: RegimeStretch, decides: Decidability): string {
  const share = `${Math.round(100 * s.probability)} %`;
  const level = `mean ${currentText(s.level_nA)}`;
  const doubt =
    s.next_probability > 0.15
      ? `; else ${regimeLabel(s.next, decides)}, ${Math.round(100 * s.next_probability)} %`
      : '';
  const rhythm =
    s.frequency_Hz === null ? '' : `, ${frequencyText(s.frequency_Hz)}${foldText(s.frequency_Hz, decides)}`;
  const charge =
    s.charge_pC === null
      ? ''
      : `, ${chargeText(s.charge_pC)} a ${s.regime === 'dripping' ? 'drop' : 'pulse'}`;
  const jets =
    s.jets === null ? '' : `, ${s.jets} by the square root of the current${s.jets >= 4 ? ' or more' : ''}`;
  return `${s.label} (${share}): ${level}${rhythm}${charge}${jets}${doubt}.`;
}

/** A line is at its own frequency only where the meter stops what lies above half the rate. */
function foldText(frequency: number, decides: Decidability): string {
  if (decides.limit_Hz !== null && decides.limit_Hz < 0.5 * decides.half_rate_Hz) return '';
  return frequency > 0.02 * decides.half_rate_Hz ? ' as sampled (a faster one may be folded to it)' : '';
}
