/**
 * One ion's level from a run file: in each MS1 scan the intensities inside m/z ± tolerance are added (profile points and peaks alike; a
 * scan without any counts as 0), the middle of all scans is the level and their spread, from neighbour to neighbour, the scatter.
 * Scans whose stated range leaves the ion out are not counted. Breaks where a neighbour falls inside the tolerance: narrow it.
 */
import { inputError } from '../core/errors.ts';
import { madSigma, median } from '../core/numeric/robust.ts';
import type { OnMs1 } from '../formats/ms1-spectrum.ts';

export interface IonAsked {
  mz: number;
  tolerance_ppm: number;
}

export interface IonLevel {
  level: number;
  scatter_percent?: number;
  /** MS1 scans that could hold the ion, and those that did. */
  scans: number;
  seen: number;
}

const PPM_MOST = 10_000;
const MZ_MOST = 100_000;
/** Fewer scans give no scatter. */
const LEAST_SCANS = 5;
const EXPECTED = 'an m/z with its tolerance, such as 524.26±10ppm or 524.26±0.02';

/** `524.26±10ppm`, `524.26+-10ppm`, or a tolerance in m/z: `524.26±0.02`. */
export function ionFrom(text: string): IonAsked {
  const match = /^\s*(\d+(?:\.\d+)?)\s*(?:±|\+\/?-)\s*(\d+(?:\.\d+)?)\s*(ppm)?\s*$/.exec(text);
  if (match === null) throw inputError('invalid', 'ion', text.slice(0, 60), EXPECTED);
  const [mz, width] = [Number(match[1]), Number(match[2])];
  return checkedIon({ mz, tolerance_ppm: match[3] === undefined ? (1e6 * width) / mz : width });
}

function checkedIon({ mz, tolerance_ppm }: IonAsked): IonAsked {
  if (!(mz > 0 && mz <= MZ_MOST))
    throw inputError('out of range', 'ion m/z', String(mz), `above 0, at most ${MZ_MOST}`);
  if (!(tolerance_ppm > 0 && tolerance_ppm <= PPM_MOST))
    throw inputError(
      'out of range',
      'ion tolerance',
      `${tolerance_ppm} ppm`,
      `above 0, at most ${PPM_MOST} ppm`,
    );
  return { mz, tolerance_ppm };
}

/** `read` reads the run called `name` and tells each MS1 spectrum. */
export async function ionLevel(
  read: (onMs1: OnMs1) => Promise<unknown>,
  name: string,
  asked: IonAsked,
): Promise<IonLevel> {
  const { mz, tolerance_ppm } = checkedIon(asked);
  const [low, high] = [mz * (1 - tolerance_ppm / 1e6), mz * (1 + tolerance_ppm / 1e6)];
  const levels: number[] = [];
  await read((scan) => {
    if (scan.window_low > high || scan.window_high < low) return;
    let sum = 0;
    for (let i = 0; i < scan.mz.length; i++) {
      const at = scan.mz[i]!;
      const height = scan.intensity[i]!;
      if (at >= low && at <= high && height > 0 && Number.isFinite(height)) sum += height;
    }
    levels.push(sum);
  });
  if (levels.length === 0)
    throw inputError(
      'missing',
      'MS1 scans',
      `${name} at m/z ${mz}`,
      'a run with MS1 peaks in a range that holds this ion',
    );
  const seen = levels.filter((level) => level > 0).length;
  const level = median(levels);
  if (levels.length < LEAST_SCANS || !(level > 0)) return { level, scans: levels.length, seen };
  // Neighbours' differences: an elution or a slow drift is no scatter.
  const steps = levels.slice(1).map((value, k) => value - levels[k]!);
  const scatter = (100 * madSigma(steps)) / Math.SQRT2 / level;
  return { level, scatter_percent: Number(scatter.toFixed(2)), scans: levels.length, seen };
}
