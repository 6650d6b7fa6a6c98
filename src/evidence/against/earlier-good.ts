/**
 * The files of a queue, each held against the last good ones before it: good is a run that is to be kept whole and showed no
 * alarm against its own good ones. Two at least, so that the fault of one of them does not pass for a file's own.
 * When it breaks: a method that changes in the middle of a queue; its first files then have no good ones of their own.
 */
import type { RunEvent, RunReading } from '../run-reading.ts';
import { DECIDES } from '../stability.ts';
import { percentText } from '../words.ts';
import { againstEventText } from './against-text.ts';
import { readAgainst } from './read-against.ts';

export interface FileAgainstEarlier {
  name: string;
  /** Names of the good files it was held against; empty where fewer than two serve. */
  good: string[];
  /** Usual ratio to them; null where none serve. */
  ratio: number | null;
  /** Eluting ions against standing ones; null where they cannot be told apart. */
  load: number | null;
  events: RunEvent[];
  sentence: string;
}

export interface EarlierGood {
  /** The next file of the queue, in its order. */
  next(name: string, reading: RunReading): FileAgainstEarlier;
}

const LEAST_GOOD = 2;
/** Older ones are another day's set-up; more add little to the middle. Judgement. */
const MOST_GOOD = 4;

export function earlierGood(): EarlierGood {
  const good: { name: string; reading: RunReading }[] = [];
  return {
    next(name, reading) {
      const told = against(name, reading, good);
      const sound = !told.events.some(({ confidence }) => confidence >= DECIDES);
      if (reading.verdict.grade === 'keep' && sound) {
        good.push({ name, reading });
        if (good.length > MOST_GOOD) good.shift();
      }
      return told;
    },
  };
}

function against(
  name: string,
  reading: RunReading,
  good: readonly { name: string; reading: RunReading }[],
): FileAgainstEarlier {
  const none = { name, good: [], ratio: null, load: null, events: [] };
  if (good.length < LEAST_GOOD)
    return { ...none, sentence: `${name}: fewer than ${LEAST_GOOD} good files stand before it.` };
  const held = readAgainst(reading, good);
  const used = held.references.filter(({ refused }) => refused === undefined).map((one) => one.name);
  if (used.length < LEAST_GOOD) {
    const why = held.references.find(({ refused }) => refused !== undefined)?.refused;
    return { ...none, sentence: `${name}: the good files before it cannot serve: ${why}.` };
  }
  const ratio = held.ratio?.value ?? null;
  const load = held.load?.value ?? null;
  const first = held.events.toSorted((a, b) => b.confidence - a.confidence)[0];
  const said = first ? againstEventText(first) : 'flat.';
  return {
    name,
    good: used,
    ratio,
    load,
    events: held.events,
    sentence: `${name}: ${said} Usual ratio ${ratio === null ? 'not known' : percentText(ratio)} of ${used.length} good files before it${load === null ? '' : `, load ${percentText(load)} of theirs`}.`,
  };
}
