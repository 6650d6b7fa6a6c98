/**
 * Cause candidates for what a run file shows, in words, likeliest first. By shape and length (practice of the trade, no
 * source, but for the drop: its period is pi d^3 / (6 Q), computed). None is a finding: the file sees neither tip nor plug.
 */
import type { RunEventKind } from '../run-reading.ts';

/** Falls shorter than this are bubbles and contacts rather than beads. Judgement. */
const SHORT_S = 30;

export function causeWords(kind: RunEventKind, length_s: number, common: boolean | undefined): string[] {
  if (kind === 'acquisition gap') return ['the acquisition paused'];
  const elution = 'elution or a change of composition';
  const spray = sprayCauses(kind, length_s);
  if (common === true) return spray;
  return common === false ? [elution, ...spray] : [...spray, elution];
}

function sprayCauses(kind: RunEventKind, length_s: number): string[] {
  switch (kind) {
    case 'dropout':
      return length_s < SHORT_S
        ? ['a bubble through the tip', 'a loose contact', 'a particle at the tip', 'a spark']
        : ['a trapped bubble', 'a leak or an empty line', 'the voltage off for a while', 'a wet tip'];
    case 'sag':
    case 'step':
      return length_s < SHORT_S
        ? ['a bubble', 'a draught at the tip', 'a hanging drop']
        : ['a bead on the shank', 'a partial clog', 'a moved tip', 'a dirty inlet'];
    case 'level lost':
    case 'signal lost at the end':
      return ['a valve of the method', 'a clogged tip', 'a lost contact', 'a leak', 'the end of the liquid'];
    case 'ripple':
      return ['drops that leave the tip one by one', 'the pump', 'gas from electrolysis', 'a room cycle'];
    case 'flicker':
      return ['a partial clog', 'a voltage near onset or near several jets', 'a wet shank', 'small bubbles'];
    case 'drift':
      return ['a slow clog', 'the inlet or the tip drifting out of place', 'the gradient'];
    case 'burst':
      return ['a bubble that leaves', 'a drop that breaks up', 'a step of composition'];
    case 'acquisition gap':
      return [];
  }
}
