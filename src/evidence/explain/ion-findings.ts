/**
 * What the ions and the polarities say: background against analyte, one part of the m/z range or all of it, one polarity
 * or both. Background ions are those found in the run itself. Beliefs are judgement.
 */

import { runSummary } from '../queue/run-summary.ts';
import type { RunGroup } from '../run-reading.ts';
import { percentText } from '../words.ts';
import type { RunContext } from './context.ts';
import { type Finding, finding } from './finding.ts';
import { against } from './level-findings.ts';
import { decidingEvents, mainGroupOf } from './main-group.ts';

/** Changes against earlier runs that count, as ratios. */
const FELL = 0.7;
const ROSE = 1.4;
/** Share of the analytes' fall (in logs) the background must show to have fallen with them. */
const TOGETHER = 0.5;
const COMPARED = 0.7;
const WITHIN = 0.75;
/** Scatter of one polarity over the other's. */
const ONE_SIDED = 2;
const POLARITY = 0.7;

export function ionFindings(context: RunContext): Finding[] {
  return [background(context), range(context), polarity(context)].filter((one) => one !== undefined);
}

function background({ reading, from, older = [] }: RunContext): Finding | undefined {
  const now = runSummary(reading);
  const level = against(
    now.level,
    older.map(({ summary }) => summary.level),
  );
  const ions = against(
    now.background,
    older.map(({ summary }) => summary.background),
  );
  if (level && ions) {
    const words = `${from}: against earlier runs the level is ${percentText(level.ratio)}, the background ions ${percentText(ions.ratio)}.`;
    if (level.ratio < FELL) {
      const together = Math.log(ions.ratio) < TOGETHER * Math.log(level.ratio);
      return finding('background', together ? 'together' : 'stay', COMPARED, from, words);
    }
    if (level.ratio > ROSE && ions.ratio > ROSE) return finding('background', 'up', COMPARED, from, words);
  }
  const told = decidingEvents(reading).filter(
    ({ kind, common }) => common !== undefined && kind !== 'burst' && kind !== 'acquisition gap',
  );
  const together = told.filter(({ common }) => common === true).length;
  if (told.length === 0 || 2 * together === told.length) return undefined;
  const most = together > told.length / 2;
  return finding(
    'background',
    most ? 'together' : 'stay',
    WITHIN,
    from,
    `${from}: in ${most ? together : told.length - together} of ${told.length} events ${most ? 'all ions fell together' : 'the background ions kept their level'}.`,
  );
}

function range({ reading, from }: RunContext): Finding | undefined {
  const spray = mainGroupOf(reading)?.spray;
  if (!spray || spray.common === 'cannot tell' || decidingEvents(reading).length === 0) return undefined;
  return spray.common === 'common'
    ? finding(
        'range',
        'all',
        WITHIN,
        from,
        `${from}: the low and the high half of the m/z range change alike.`,
      )
    : finding(
        'range',
        'part',
        WITHIN / 2,
        from,
        `${from}: the low and the high half of the m/z range do not change alike.`,
      );
}

function polarity({ reading, from }: RunContext): Finding | undefined {
  const scatter = (sign: RunGroup['polarity']) =>
    Math.min(
      ...reading.groups.flatMap((group) =>
        group.polarity === sign && group.scan_scatter !== null ? [group.scan_scatter] : [],
      ),
    );
  const [plus, minus] = [scatter('positive'), scatter('negative')];
  if (!Number.isFinite(plus) || !Number.isFinite(minus)) return undefined;
  const words = `${from}: scatter ${percentText(plus)} in positive and ${percentText(minus)} in negative polarity.`;
  if (minus > ONE_SIDED * plus) return finding('polarity', 'negative', POLARITY, from, words);
  return finding('polarity', 'both', POLARITY, from, words);
}
