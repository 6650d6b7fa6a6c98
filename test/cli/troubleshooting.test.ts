/** docs/troubleshooting.md stays true: every command of it is run, and what it shows is what comes out. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { walked, walkPage } from '../kit/troubleshooting-walk.ts';

/** Solvers round differently from machine to machine; the page's numbers are rounded to about three figures. */
const NUMBER_SHARE = 0.02;
/** Chances are shown in whole percents. */
const NUMBER_LEAST = 1;
/** Read, explain, settle, prove, hand over, and what makes their files. */
const COMMANDS_LEAST = 20;
/** Some forty commands on a slow machine. */
const WALK_MS = 600_000;

it('runs every command of the walk and gives what the page shows', { timeout: WALK_MS }, async () => {
  const page = readFileSync(walkPage, 'utf8');
  const now = await walked();
  expect([...page.matchAll(/^\$ steadycone /gm)].length).toBeGreaterThan(COMMANDS_LEAST);
  expect(wordsOf(now)).toEqual(wordsOf(page));
  const [real, shown] = [numbersOf(now), numbersOf(page)];
  expect(real.length).toBe(shown.length);
  const off = real.flatMap((value, k) =>
    Math.abs(value - shown[k]!) <= Math.max(NUMBER_LEAST, NUMBER_SHARE * Math.abs(value))
      ? []
      : [`${shown[k]} in the page, ${value} now`],
  );
  expect(off).toEqual([]);
});

const NUMBER = /\d+(?:\.\d+)?(?:e[+-]?\d+)?/g;

function wordsOf(text: string): string[] {
  return text.replace(NUMBER, '#').split('\n');
}

function numbersOf(text: string): number[] {
  return (text.match(NUMBER) ?? []).map(Number);
}
