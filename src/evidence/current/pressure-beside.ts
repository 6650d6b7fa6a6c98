/** What a pressure recorded beside the current says: a pump moves both, a wet face or a bubble at the tip moves the current alone. */
import type { BesideCurrent } from '../../core/signal/index.ts';
import type { PressureBeside } from './current-reading.ts';

const BAR = 1e5;
/** Both move together from this correlation on, over so many swings (judgement: fewer may be chance). */
const TOGETHER = 0.7;
const LEAST_SWINGS = 3;
/** A pressure stands still within this share of itself (judgement). */
const STILL = 0.005;

export function pressureOf(found: BesideCurrent | undefined): PressureBeside | null {
  if (!found) return null;
  const { mean, low, high, delay_s } = found;
  return {
    mean_bar: mean / BAR,
    low_bar: low / BAR,
    high_bar: high / BAR,
    moves_with: movesWith(found),
    delay_s,
  };
}

function movesWith({ mean, low, high, correlation, swings }: BesideCurrent): boolean | null {
  if (high - low < STILL * Math.abs(mean)) return false;
  if (correlation === null || swings < LEAST_SWINGS) return null;
  return Math.abs(correlation) >= TOGETHER;
}

/** `rhythm`: a slow rhythm of the current was named. */
export function pressureText(pressure: PressureBeside, rhythm: boolean): string {
  const bar = (value: number) => Number(value.toPrecision(3));
  const { mean_bar, low_bar, high_bar, moves_with } = pressure;
  const level = `Pressure ${bar(mean_bar)} bar (${bar(low_bar)} to ${bar(high_bar)})`;
  if (moves_with === true) return `${level}; the current moves with it: look at the pump and the feed first.`;
  if (moves_with === false && rhythm)
    return `${level}; the rhythm of the current is not in it: bubbles or a wet face rather than the pump.`;
  return `${level}.`;
}
