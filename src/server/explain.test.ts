/** Explaining over HTTP. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { NONSENSE } from '../../test/kit/nonsense.ts';
import { openBench, readRunStreamAndKeep } from '../app/index.ts';
import { inventedRun } from '../rehearsal/index.ts';
import { buildServer } from './index.ts';

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const headers = { host: '127.0.0.1:4747', origin: 'http://127.0.0.1:4747' };

async function served() {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-explain-http-'));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const bench = await openBench(join(folder, 'bench'));
  ends.push(() => bench.close());
  const app = await buildServer({ bench, webRoot: folder });
  ends.push(() => app.close());
  const bytes = new TextEncoder().encode([...inventedRun({ seed: 3, length_min: 3 })].join(''));
  async function* pieces() {
    yield bytes;
  }
  const { reading_id = '' } = await readRunStreamAndKeep(bench, pieces(), 'run_3.mzML');
  const post = (url: string, payload: unknown) =>
    app.inject({ method: 'POST', url, headers, payload: payload as object });
  return { post, reading_id };
}

describe('POST /api/explain', () => {
  it('ranks causes from a reading, answers, a set-up and a current trace', async () => {
    const { post, reading_id } = await served();
    const reply = await post('/api/explain', {
      reading_id,
      answers: [{ observable: 'pressure', outcome: 'usual' }],
      cannot: ['meniscus'],
      current: { regime: 'pulsating', probability: 0.8, multipleOfExpected: 0.6 },
      setup: {
        emitter: { bore_um: 10, rim_um: 20, material: 'fused silica' },
        liquid: { acetonitrile_percent: 20, additive: 'formic acid', additive_percent: 0.1 },
        feed: { kind: 'pumped', flow_nL_min: 300 },
        polarity: 'positive',
        inlet: { distance_mm: 3, bore_mm: 0.5 },
        voltage: { supply_V: 900 },
      },
    });
    expect(reply.statusCode).toBe(200);
    const explained = reply.json();
    expect(explained).toMatchObject({ reading_id, file: 'run_3.mzML', invented: true });
    const answered = explained.observations.map(({ observable }: { observable: string }) => observable);
    for (const id of ['pressure', 'plan-voltage', 'current-form', 'current']) expect(answered).toContain(id);
    expect(explained.inference).toBeUndefined();
    expect(explained.advice).toHaveLength(3);
  });

  it.each([
    [{ answers: [{ observable: 'smell', outcome: 'sweet' }] }, /unknown question: smell/],
    [{ answers: [{ observable: 'swap', outcome: 'maybe' }] }, /unknown answer to swap: maybe/],
    [{ answers: 'all' }, /answers/],
    [{ more: 1 }, /more/],
    [{ current: { regime: 'x', probability: 3 } }, /probability/],
    [{ setup: { emitter: {} } }, /bore_um/],
  ])('refuses %j', async (payload, words) => {
    const { post } = await served();
    const reply = await post('/api/explain', payload);
    expect(reply.statusCode).toBe(400);
    expect(reply.json().error).toMatch(words);
  });

  it('answers every nonsense with chances or a refusal, never with a fault', async () => {
    const { post } = await served();
    for (const { name, request, refused } of NONSENSE) {
      const reply = await post('/api/explain', request);
      expect([200, 400, 404, 415], name).toContain(reply.statusCode);
      expect(reply.statusCode === 200, name).toBe(refused === undefined);
    }
  });

  it('keeps a log with the reading', async () => {
    const { post, reading_id } = await served();
    const lines = ['High voltage off, 0 V read back.', 'Union dry.'];
    const reply = await post('/api/explain/log', { on: reading_id, lines, who: 'ab' });
    expect(reply.statusCode).toBe(200);
    expect(reply.json().items).toMatchObject([{ kind: 'note', on: reading_id, who: 'ab' }]);
    expect((await post('/api/explain/log', { on: 'reading-99', lines })).statusCode).toBe(404);
    expect((await post('/api/explain/log', { on: reading_id, lines: [] })).statusCode).toBe(400);
  });
});
