import { describe, expect, it } from 'vitest';
import { madeRecord } from '../../../test/kit/made-record.ts';
import { randomStream } from '../../core/random.ts';
import { readRun } from '../read-run.ts';
import { readiness, readyText } from './ready.ts';

/** Ten minutes, a scan a second. */
function reading(level: (time_s: number) => number, scatter = 0.05, length_s = 700) {
  const draw = randomStream(3, 'ready');
  const scans = Array.from({ length: length_s }, (_, time_s) => ({
    time_s,
    tic: 1e7 * level(time_s) * draw.factor(scatter),
    injection_ms: 50,
  }));
  return readRun(madeRecord(scans));
}

describe('ready', () => {
  it('starts on a steady level', () => {
    const ready = readiness(reading(() => 1));
    expect(ready.state).toBe('start');
    // 600 s of noise 0.05: the robust scatter is known to about 4 %.
    expect(Math.abs(ready.scatter! / 0.05 - 1)).toBeLessThan(0.2);
    expect(Math.abs(ready.drift!)).toBeLessThan(0.03);
    expect(ready.from_s).toBe(99);
  });

  it.each([
    ['too short', reading(() => 1, 0.05, 200), /^Wait: only 3\.3 min with 200 scans/],
    [
      'a drift of a fifth',
      reading((t) => 1 + 0.2 * ((t - 100) / 600)),
      /^Wait: the level rises by (18|19|20|21) % .*not settled/,
    ],
    ['15 % scatter', reading(() => 1, 0.15), /^Wait: the level scatters by 1[3-7] %/],
    ['30 % scatter', reading(() => 1, 0.3), /^Look first: the level scatters/],
    [
      'a dropout',
      reading((t) => (t > 400 && t < 412 ? 0.05 : 1)),
      /^Look first: at 6:4\d min the level drops out/,
    ],
    ['a level that dies', reading((t) => Math.exp(-t / 400)), /^Look first: the level falls/],
    ['no ions', reading((t) => (t < 100 ? 1 : 0)), /^Look first: most scans hold no ions/],
  ])('%s', (_, one, sentence) => {
    expect(readiness(one).sentence).toMatch(sentence);
  });

  it('looks at the last ten minutes only, and says what its words mean', () => {
    const late = readiness(reading((t) => (t > 20 && t < 40 ? 0.05 : 1)));
    expect(late.state).toBe('start');
    const text = readyText(late);
    for (const word of ['start:', 'wait:', 'look first:', 'voltage off']) expect(text).toContain(word);
  });

  it('names the weightiest event first, waits for one hardly believed, and leaves out a drift of the whole run', () => {
    const lost = reading((t) => (t > 400 && t < 410 ? 0.05 : 1));
    const like = lost.events[0]!;
    const one = (kind: typeof like.kind, sentence: string, parts: Partial<typeof like> = {}) => ({
      ...like,
      kind,
      sentence,
      confidence: 0.8,
      ...parts,
    });
    const events = [
      one('burst', 'A burst.'),
      one('sag', 'A sag.'),
      one('level lost', 'The level is lost.'),
      one('drift', 'A drift.'),
      one('step', 'An old step.', { start_s: 20 }),
      one('sag', 'A weak sag.', { confidence: 0.4 }),
    ];
    const many = readiness({ ...lost, events });
    expect(many.sentence).toBe('Look first: the level is lost.');
    expect(many.reasons.slice(0, 4)).toEqual([
      'the level is lost',
      'a sag',
      'a burst',
      'a weak sag, hardly believed: read again in some minutes',
    ]);
    expect(many.reasons.join()).not.toMatch(/a drift|old step/);
    expect(readiness({ ...lost, events: events.slice(5) }).state).toBe('wait');
    expect(readiness({ ...lost, events: events.slice(3, 5) }).state).toBe('start');
  });

  it('answers an empty run', () => {
    expect(readiness(readRun(madeRecord([]))).state).toBe('wait');
  });
});
