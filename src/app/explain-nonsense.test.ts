/** Nonsense in, sense out: over the task and over HTTP. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NONSENSE } from '../../test/kit/nonsense.ts';
import { explainRequestFrom } from '../contract/index.ts';
import { InputError } from '../core/errors.ts';
import { type Bench, type Explained, explainKept, openBench } from './index.ts';

/** Chances are sums of some sixty rounded numbers. */
const ROUNDED = 1e-9;
const GRAMMAR = /^(missing|invalid|unknown|out of range) .*; expected /;

const folder = mkdtempSync(join(tmpdir(), 'steadycone-nonsense-'));
let bench: Bench;
beforeAll(async () => {
  bench = await openBench(folder);
});
afterAll(async () => {
  await bench.close();
  rmSync(folder, { recursive: true, force: true });
});

function expectSane({ ranked }: Explained): void {
  const chances = [...ranked.causes.map(({ probability }) => probability), ranked.two_faults, ranked.outside];
  expect(chances.every((p) => Number.isFinite(p) && p >= 0 && p <= 1)).toBe(true);
  expect(Math.abs(chances.reduce((a, b) => a + b) - 1)).toBeLessThan(ROUNDED);
  expect(ranked.sentence.length).toBeGreaterThan(20);
}

describe('nonsense', () => {
  it('comes in twenty kinds at least, refused and answered', () => {
    expect(NONSENSE.length).toBeGreaterThanOrEqual(20);
    expect(new Set(NONSENSE.map(({ name }) => name)).size).toBe(NONSENSE.length);
  });

  it.each(NONSENSE.filter(({ refused }) => refused === undefined))('$name: answered', async ({ request }) => {
    expectSane(await explainKept(bench, explainRequestFrom(request)));
  });

  it.each(NONSENSE.filter(({ refused }) => refused !== undefined))(
    '$name: refused',
    async ({ request, refused }) => {
      const trouble = await (async () => explainKept(bench, explainRequestFrom(request)))().then(
        () => undefined,
        (error: unknown) => error,
      );
      expect(trouble).toBeInstanceOf(InputError);
      expect((trouble as InputError).message).toMatch(refused!);
      expect((trouble as InputError).message.split('\n').every((line) => GRAMMAR.test(line))).toBe(true);
    },
  );
});
