/** What a run file cannot decide about a spray, each with the cheapest measurement that would. */
import type { RunEvent, RunGroup } from './run-reading.ts';
import { percentText } from './words.ts';

export interface UndecidedInput {
  group: RunGroup | undefined;
  events: readonly RunEvent[];
  /** Shallowest sag the series could have shown, as a share; 1 when none could be looked for. */
  sag_floor: number;
  /** Stretches were left out on request; a bare start was found. */
  masked: boolean;
  /** What the phases of the method were found from. */
  method?: string | undefined;
  /** The file holds the pump pressure. */
  pressure?: boolean;
  bare_start: boolean;
}

/** Sags of this depth going unseen are worth a sentence. */
const SAG_FLOOR_TOLD = 0.15;
/**
 * Scatter about the course over scatter from scan to scan that shows elution. A sag of 35 % put among 60 peaks of
 * invented runs was found once in 60 (computed), although the edges' own limit lay below that.
 */
const ELUTION_RATIO = 1.5;

export function undecided(input: UndecidedInput): string[] {
  const { group, events } = input;
  const every =
    group && group.interval_s > 0
      ? `MS1 scans come every ${group.interval_s.toFixed(group.interval_s < 10 ? 2 : 0)} s`
      : 'MS1 scans come about once a second';
  const list = [
    `The regime (cone-jet, pulsation, multi-jet): ${every}, the cone pulsates thousands of times in that time. Decides: one second of spray current through a meter fast enough (above 200 kS/s), or microscope frames of the tip.`,
    'Position, inlet or spray: a tip out of place or a dirty inlet lowers the level as a failing spray does. Decides: the mean spray current (unchanged: position or inlet), else a known good tip at the same place.',
    input.pressure
      ? 'Clog at the tip or voltage: both leave falls alike, and normal pressure in the file says nothing about the tip. Decides: a look at the meniscus, or the mean spray current over the same minutes.'
      : 'Clog, leak or voltage: all three leave falls alike. Decides: the pump pressure over the same minutes for a leak or a line clog; a look at the meniscus for the tip, since normal pressure says nothing about it.',
    'Anything shorter than a scan interval: drops and bursts fold into slow ripple or into scatter. Decides: a spray current trace.',
  ];
  if (input.method !== undefined) {
    list.push(
      `Whether the method ran as planned: its phases were found from ${input.method}; the run's zero is taken for the table's. Decides: the pump's own record.`,
    );
  } else if (!input.masked) {
    list.push(
      `Injection and wash: ${input.bare_start ? 'only the bare start was found and left out; ' : ''}a wash, a new composition and a failing spray can move the level alike, and run files hold no gradient. Decides: a set-up with its gradient table, or the times of the method given as stretches to leave out.`,
    );
  }
  // What the background ions agreed to is decided.
  const falls = events.filter(
    (event) => (event.kind === 'sag' || event.kind === 'dropout') && event.common !== true,
  );
  const answered = events.some((event) => event.common === true);
  if (falls.length > 0) {
    const sags = falls.some((event) => event.kind === 'sag');
    const witness = group?.injection_time
      ? 'the fill time tells that fewer ions arrived, not why'
      : 'the file gives no fill times, so the level stands alone';
    list.push(
      `Whether ${sags ? 'a sag' : 'a dropout'} is the spray or the chromatography: ${witness}. Decides: siloxane background ions over the same minutes (they fall with the spray, not with the column), or the same method run once more: chromatography comes back at the same time.`,
    );
  }
  if (answered) {
    list.push(
      'Why all ions changed together: spray, position, inlet and fill control do so alike. Decides: the mean spray current over the same minutes, or a look at the tip.',
    );
  }
  if (falls.length === 0 && group) {
    list.push(
      'Slow loss over the whole run: it cannot be told from the gradient. Decides: a reference ion or the same run on a day known to be good.',
    );
  }
  if (group && !group.limits && (input.sag_floor > SAG_FLOOR_TOLD || elutes(group))) {
    list.push(
      input.sag_floor < 0.99
        ? `Sags shallower than ${percentText(input.sag_floor)}, and during elution much deeper ones: they drown in the scatter and among the peaks. Decides: background ions, or an infusion on the same tip.`
        : 'Sags: the run is too short or moves too much to look for them. Decides: an infusion of some minutes on the same tip.',
    );
  }
  if (group?.limits)
    list.push(
      `Smaller faults. ${group.limits.sentence} Decides: an infusion of some minutes on the same tip.`,
    );
  if (!group?.injection_time && falls.length === 0) {
    list.push(
      'How many ions arrived: the file gives no fill times. Decides: a conversion that keeps them, if the instrument traps ions.',
    );
  }
  return list;
}

function elutes(group: RunGroup): boolean {
  return (
    group.scatter !== null &&
    group.scan_scatter !== null &&
    group.scatter > ELUTION_RATIO * group.scan_scatter
  );
}
