/**
 * What a repetition time would mean if it came from a drop, a pump stroke, a stepper, a bubble or from faster swings that
 * the scans fold. Arithmetic only: volumes are flow times time; whether it is the cause, another observation must say.
 * Drop: d = (6 Q T/π)^(1/3), a sphere that takes all the liquid. Step: s = 4 Q T/(π D²) of a plunger of diameter D.
 * Alias: a sampling interval Δt shows 1/T also for true frequencies |k/Δt ± 1/T|, k = 1, 2 …
 * Worked numbers: 13 s at 300 nL/min: 0.50 mm drop, 65 nL; 0.84 s: 0.20 mm (computed).
 */
import { inputError } from '../errors.ts';
import { NL_MIN } from '../units.ts';

export interface PeriodInput {
  period_s: number;
  flow_nL_min: number;
  /** Interval of the MS1 scans, where the period was seen in a run file. */
  scan_interval_s?: number | undefined;
  /** Bore of the syringe or pump chamber. */
  plunger_bore_mm?: number | undefined;
}

export interface PeriodMeaning {
  volume_nL: number;
  drop_diameter_mm: number;
  plunger_step_um?: number;
  /** Shortest true periods that these scans would show as this one [s]. */
  aliases_s: number[];
  sentences: string[];
}

/** Free drops between these are believable at a nanoflow tip: a spray's own droplets are smaller, larger ones fall off. */
const DROP_MM = { low: 0.03, high: 2 };
const ALIASES = 3;
/** Below this many scans a period no shape of a swing is seen, and folding is likely. */
const SCANS_FOR_SHAPE = 4;

export function periodMeaning(input: PeriodInput): PeriodMeaning {
  for (const [key, value] of Object.entries(input))
    if (value !== undefined && !(value > 0 && Number.isFinite(value)))
      throw inputError('out of range', key, `${value}`, 'a positive number');
  const { period_s: T, flow_nL_min, scan_interval_s: dt, plunger_bore_mm: bore } = input;
  const volume = flow_nL_min * NL_MIN * T;
  const volume_nL = volume / 1e-12;
  const drop_diameter_mm = Math.cbrt((6 * volume) / Math.PI) * 1e3;
  const plunger_step_um =
    bore === undefined ? undefined : (volume / ((Math.PI * (bore * 1e-3) ** 2) / 4)) * 1e6;
  const aliases_s = dt === undefined ? [] : aliases(T, dt);
  return {
    volume_nL,
    drop_diameter_mm,
    ...(plunger_step_um === undefined ? {} : { plunger_step_um }),
    aliases_s,
    sentences: words(input, volume_nL, drop_diameter_mm, plunger_step_um, aliases_s),
  };
}

/** Gas that replaces the liquid for a gap of this length [nL]. */
export function gapVolume_nL(gap_s: number, flow_nL_min: number): number {
  return (flow_nL_min * gap_s) / 60;
}

function aliases(T: number, dt: number): number[] {
  const found: number[] = [];
  for (let k = 1; found.length < ALIASES; k++)
    for (const sign of [-1, 1]) {
      const frequency = Math.abs(k / dt + sign / T);
      if (frequency > 0 && found.length < ALIASES) found.push(1 / frequency);
    }
  return found;
}

function words(
  { period_s: T, scan_interval_s: dt, plunger_bore_mm: bore }: PeriodInput,
  volume: number,
  drop: number,
  step: number | undefined,
  aliases_s: readonly number[],
): string[] {
  const n = (x: number) => `${Number(x.toPrecision(2))}`;
  const said = [`Every ${n(T)} s the pump delivers ${n(volume)} nL.`];
  said.push(
    drop < DROP_MM.low || drop > DROP_MM.high
      ? `One drop of all that would be ${n(drop)} mm wide: not believable as a hanging drop.`
      : `A drop that takes all of it would be ${n(drop)} mm wide: half the flow, twice the period, and the pressure flat.`,
  );
  said.push(
    `A pump of ${n(volume)} nL a stroke would show it in the pressure too, with a period that also goes as one over the flow.`,
  );
  if (step !== undefined && bore !== undefined)
    said.push(`A plunger of ${n(bore)} mm moves ${n(step)} µm in that time: compare with its step.`);
  said.push(`A gap of 1 s at this flow is a bubble of ${n(volume / T)} nL.`);
  if (dt !== undefined && T < SCANS_FOR_SHAPE * dt)
    said.push(
      `With a scan every ${n(dt)} s this may be folded: true periods of ${aliases_s.map(n).join(', ')} s would look the same.`,
    );
  return said;
}
