/** Queues over HTTP, and an upload that the bench cannot keep. */
import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openBench, readQueue, runFilesOf } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { inventedRun } from '../rehearsal/index.ts';
import { buildServer } from './index.ts';

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const headers = { host: '127.0.0.1:4747' };
/** A label with what an address must escape. */
const LABEL = 'tip 7/8 ä%';

async function served() {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-queues-'));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const bench = await openBench(join(folder, 'bench'));
  ends.push(() => bench.close());
  const app = await buildServer({ bench, webRoot: folder });
  ends.push(() => app.close());
  const runs = join(folder, 'runs');
  mkdirSync(runs);
  for (const seed of [1, 2]) {
    const text = [...inventedRun({ seed, length_min: 2, faults: 'none' })].join('');
    const path = join(runs, `run_${seed}.mzML`);
    writeFileSync(path, text);
    utimesSync(path, 2e9 + 600 * seed, 2e9 + 600 * seed);
  }
  return { app, bench, runs };
}

describe('queues', () => {
  it('are listed, shown and given as files', async () => {
    const { app, bench, runs } = await served();
    expect((await app.inject({ url: '/api/queues', headers })).json()).toEqual({ queues: [] });
    await readQueue(await runFilesOf(runs), { bench, label: LABEL });
    const { queues } = (await app.inject({ url: '/api/queues', headers })).json();
    expect(queues).toMatchObject([{ label: LABEL, runs: 2, invented: true }]);
    const address = `/api/queues/${encodeURIComponent(LABEL)}`;
    const { report, alert } = (await app.inject({ url: address, headers })).json();
    expect(alert).toBeNull();
    expect(report.files.map((file: { name: string }) => file.name)).toEqual(['run_1.mzML', 'run_2.mzML']);
    for (const [as, type, start] of [
      ['csv', 'text/csv', 'file,sha256'],
      ['svg', 'image/svg', '<svg'],
      ['html', 'text/html', '<!doctype html>'],
      ['mzqc', 'application/json', '{\n "mzQC"'],
    ] as const) {
      const reply = await app.inject({ url: `${address}/${as}`, headers });
      expect(reply.headers['content-type']).toContain(type);
      expect(reply.body.startsWith(start)).toBe(true);
    }
  });

  it('are compared', async () => {
    const { app, bench, runs } = await served();
    const paths = await runFilesOf(runs);
    await readQueue(paths, { bench, label: LABEL });
    await readQueue(paths.slice(1), { bench, label: 'b' });
    const address = `/api/queues/${encodeURIComponent(LABEL)}/against`;
    const { differences, cautions } = (await app.inject({ url: `${address}?of=b`, headers })).json();
    expect([differences, cautions[0]]).toEqual([
      [],
      expect.stringContaining('Too few judged runs to compare: 2 and 1'),
    ]);
    expect((await app.inject({ url: `${address}?of=none`, headers })).statusCode).toBe(404);
  });

  it('answer 404 for a label nobody used, 400 for a kind nobody makes', async () => {
    const { app, bench, runs } = await served();
    const none = await app.inject({ url: '/api/queues/none', headers });
    expect([none.statusCode, none.json().error]).toEqual([
      404,
      expect.stringMatching(/^unknown queue: "none"/),
    ]);
    await readQueue(await runFilesOf(runs), { bench, label: 'a' });
    expect((await app.inject({ url: '/api/queues/a/pdf', headers })).statusCode).toBe(400);
    expect((await app.inject({ url: `/api/queues/${'x'.repeat(999)}`, headers })).statusCode).toBe(404);
  });
});

it('shows the reading of an upload that a full disk does not keep', async () => {
  const { app, bench } = await served();
  const full = inputError('invalid', 'bench store', 'database or disk is full', 'a disk with room');
  bench.store.atomically = () => Promise.reject(full);
  const reply = await app.inject({
    method: 'PUT',
    url: '/api/runs?name=run.mzML',
    headers: { ...headers, 'content-type': 'application/octet-stream' },
    payload: Buffer.from([...inventedRun({ seed: 3, length_min: 2 })].join('')),
  });
  expect(reply.statusCode).toBe(200);
  expect(reply.json()).toMatchObject({ not_kept: full.message, reading: { format: 'mzML', invented: true } });
  expect(reply.json().reading_id).toBeUndefined();
});
