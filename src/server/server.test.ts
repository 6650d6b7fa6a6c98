import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterEach, describe, expect, it } from 'vitest';
import { methodSetupText, runWithPressure } from '../../test/kit/made-method.ts';
import { type Bench, openBench, setupFromText, startingSetup, version } from '../app/index.ts';
import { inventedRun } from '../rehearsal/index.ts';
import { buildServer, type RunningServer, startServer } from './index.ts';

const ends: (() => unknown)[] = [];

afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

async function newBench(): Promise<{ bench: Bench; folder: string; webRoot: string }> {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-server-'));
  ends.push(() => rmSync(folder, { recursive: true, force: true }));
  const bench = await openBench(join(folder, 'bench'));
  ends.push(() => bench.close());
  const webRoot = join(folder, 'web');
  mkdirSync(join(webRoot, 'assets'), { recursive: true });
  writeFileSync(join(webRoot, 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(webRoot, 'assets', 'page-abc.js'), 'export {};');
  return { bench, folder, webRoot };
}

async function injected(): Promise<{ app: FastifyInstance; bench: Bench }> {
  const { bench, webRoot } = await newBench();
  const app = await buildServer({ bench, webRoot });
  ends.push(() => app.close());
  return { app, bench };
}

async function listening(): Promise<{ server: RunningServer; bench: Bench }> {
  const { bench, webRoot } = await newBench();
  const server = await startServer({ bench, webRoot, port: 0 });
  ends.push(() => server.close());
  return { server, bench };
}

const setup = setupFromText(startingSetup());
const runBytes = () => Buffer.from([...inventedRun({ seed: 7, length_min: 5 })].join(''));
const local = { host: '127.0.0.1:4747' };

describe('the API', () => {
  it('says what it is, without the path of the folder', async () => {
    const { app, bench } = await injected();
    const reply = await app.inject({ url: '/api/status', headers: local });
    expect(reply.json()).toEqual({ version: version(), driver: bench.driver, folder: 'bench' });
  });

  it('plans a set-up and keeps it', async () => {
    const { app, bench } = await injected();
    const reply = await app.inject({
      method: 'POST',
      url: '/api/plans?who=late',
      payload: setup,
      headers: local,
    });
    expect(reply.statusCode).toBe(200);
    expect(reply.json()).toMatchObject({ setup_id: 'setup-1', plan_id: 'plan-1' });
    expect(reply.json().plan.onset_V.value).toBeGreaterThan(0);
    expect((await bench.show('setup-1')).item.who).toBe('late');
  });

  it('tells the level of a run, of one ion too, and keeps nothing', async () => {
    const { app, bench } = await injected();
    const put = (query: string) =>
      app.inject({
        method: 'PUT',
        url: `/api/levels?${query}`,
        payload: Buffer.from([...inventedRun({ seed: 3, length_min: 2, faults: 'none' })].join('')),
        headers: { ...local, 'content-type': 'application/octet-stream' },
      });
    const whole = await put('name=run.mzML');
    expect(whole.statusCode).toBe(200);
    expect(whole.json().level).toBeGreaterThan(0);
    const one = (await put(`name=run.mzML&ion=${encodeURIComponent('700±5000ppm')}`)).json();
    expect(one.scans).toBeGreaterThan(50);
    expect(one.level).toBeLessThan(whole.json().level);
    expect((await put('name=run.mzML&ion=many')).statusCode).toBe(400);
    expect(await bench.list()).toEqual([]);
  });

  it('plans for a sibling of what was seen, and only then', async () => {
    const { app } = await injected();
    const post = (body: object) =>
      app.inject({ method: 'POST', url: '/api/plans', payload: { setup, ...body }, headers: local });
    const observations = [{ tip_V: 1500, seen: 'onset here' }];
    const [own, sibling] = [await post({ observations }), await post({ observations, sibling: true })];
    const width = ({ low, high }: { low: number; high: number }) => high - low;
    expect(width(sibling.json().plan.onset_V)).toBeGreaterThan(width(own.json().plan.onset_V));
    for (const wrong of [{ sibling: true }, { observations, sibling: 'yes' }])
      expect((await post(wrong)).statusCode).toBe(400);
  });

  it.each([
    [
      { ...setup, emitter: { ...setup.emitter, bore_um: -1, colour: 'red' } },
      /^out of range emitter\.bore_um: -1 µm; .*\nunknown emitter\.colour/s,
    ],
    ['{"emitter":', /^invalid request body: not JSON; expected/],
    ['', /^missing request body; expected/],
    ['{"__proto__": {"a": 1}}', /^invalid request body: not JSON/],
    [`"${'x'.repeat(1024 * 1024)}"`, /^out of range request body: more than 1 MB/],
  ])('refuses a wrong set-up %#', async (payload, message) => {
    const { app, bench } = await injected();
    const headers = { ...local, 'content-type': 'application/json' };
    const reply = await app.inject({ method: 'POST', url: '/api/plans', payload, headers });
    expect(reply.statusCode).toBeGreaterThanOrEqual(400);
    expect(reply.statusCode).toBeLessThan(500);
    expect(reply.json().error).toMatch(message);
    expect(await bench.list()).toEqual([]);
  });

  it('lists, shows, notes and exports', async () => {
    const { app } = await injected();
    await app.inject({ method: 'POST', url: '/api/plans', payload: setup, headers: local });
    const note = { on: 'emitter-1', text: 'new tip', who: 'late' };
    const noted = await app.inject({ method: 'POST', url: '/api/notes', payload: note, headers: local });
    expect(noted.json().item).toMatchObject({ id: 'note-1', on: 'emitter-1' });
    const list = await app.inject({ url: '/api/bench?kind=emitter&q=silica', headers: local });
    expect(list.json().items.map((item: { id: string }) => item.id)).toEqual(['emitter-1']);
    const shown = await app.inject({ url: '/api/bench/emitter-1', headers: local });
    expect(
      shown
        .json()
        .related.map((item: { id: string }) => item.id)
        .sort(),
    ).toEqual(['note-1', 'setup-1']);
    const exported = await app.inject({ url: '/api/export', headers: local });
    expect(exported.headers['content-disposition']).toContain('bench.json');
    expect(exported.json().items).toHaveLength(4);
  });

  it('answers a missing entry with 404 and a wrong request with 400', async () => {
    const { app } = await injected();
    const missing = await app.inject({ url: '/api/bench/run-9', headers: local });
    expect([missing.statusCode, missing.json().error]).toEqual([
      404,
      'unknown bench item: "run-9"; expected an id that the bench lists, such as run-3',
    ]);
    const kind = await app.inject({ url: '/api/bench?kind=tip', headers: local });
    expect([kind.statusCode, kind.json().error]).toEqual([
      400,
      'unknown kind: "tip"; expected one of emitter, setup, plan, run, reading, point, note',
    ]);
    const note = await app.inject({
      method: 'POST',
      url: '/api/notes',
      payload: { on: 'run-9', text: ' ' },
      headers: local,
    });
    expect([note.statusCode, note.json().error]).toEqual([
      400,
      'invalid note text; expected 1 to 2000 characters',
    ]);
    const orphan = await app.inject({
      method: 'POST',
      url: '/api/notes',
      payload: { on: 'run-9', text: 'x' },
      headers: local,
    });
    expect(orphan.statusCode).toBe(404);
    const csv = await app.inject({ url: '/api/readings/reading-1.csv', headers: local });
    expect(csv.statusCode).toBe(404);
    const address = await app.inject({ url: '/api/other', headers: local });
    expect([address.statusCode, address.json().error]).toEqual([
      404,
      expect.stringMatching(/^unknown address/),
    ]);
    const type = await app.inject({
      method: 'POST',
      url: '/api/plans',
      payload: 'x',
      headers: { ...local, 'content-type': 'text/plain' },
    });
    expect([type.statusCode, type.json().error]).toEqual([
      415,
      expect.stringMatching(/^invalid content type/),
    ]);
  });
});

describe('an upload', () => {
  it('is read as it arrives, kept, and its series comes back as CSV', async () => {
    const { server, bench } = await listening();
    const body = runBytes();
    const reply = await fetch(
      `${server.address}/api/runs?name=${encodeURIComponent('..\\x/night 1.mzML')}&who=late`,
      {
        method: 'PUT',
        headers: { 'content-type': 'application/octet-stream' },
        body: piecesOf(body),
        duplex: 'half',
      } as RequestInit,
    );
    const kept = (await reply.json()) as {
      run_id: string;
      reading_id: string;
      reading: { ms1_count: number };
    };
    expect(reply.status).toBe(200);
    expect(kept).toMatchObject({ run_id: 'run-1', reading_id: 'reading-1' });
    expect((await bench.show('run-1')).item).toMatchObject({ title: 'night 1.mzML', who: 'late' });
    const csv = await fetch(`${server.address}/api/readings/reading-1.csv`);
    expect(csv.headers.get('content-type')).toContain('text/csv');
    expect((await csv.text()).split('\n').length).toBeGreaterThan(kept.reading.ms1_count);
  });

  it('is read with a set-up of the bench, whose gradient tells its phases', async () => {
    const { app } = await injected();
    const setup = setupFromText(methodSetupText);
    const posted = () => app.inject({ method: 'POST', url: '/api/setups', headers: local, payload: setup });
    expect((await posted()).json()).toEqual({ setup_id: 'setup-1' });
    expect((await posted()).json()).toEqual({ setup_id: 'setup-1' });
    const { text } = runWithPressure(7);
    const put = (query: string) =>
      app.inject({
        method: 'PUT',
        url: `/api/runs?name=a.mzML${query}`,
        headers: { ...local, 'content-type': 'application/octet-stream' },
        payload: text,
      });
    const { reading, reading_id } = (await put('&setup=setup-1')).json();
    expect(reading.method.phases.map(({ name }: { name: string }) => name)).toContain('wash');
    expect(reading.method.from).toContain('"Short gradient (invented)"');
    expect(reading.traces[0]).toMatchObject({ name: 'pressure', unit: 'bar' });
    for (const [as, type, words] of [
      ['csv', 'text/csv', 'time_s,group,level'],
      ['svg', 'image/svg', 'Phases of the method'],
      ['html', 'text/html', 'Phases of the method, each judged by itself'],
      ['mzQC', 'application/json', 'MS:4000097'],
    ] as const) {
      const file = await app.inject({ url: `/api/readings/${reading_id}.${as}`, headers: local });
      expect(file.headers['content-type']).toContain(type);
      expect(file.headers['content-disposition']).toBe(`attachment; filename="${reading_id}.${as}"`);
      expect(file.body).toContain(words);
    }
    const odd = await app.inject({ url: `/api/readings/${reading_id}.pdf`, headers: local });
    expect(odd.json().error).toContain('unknown kind of file: pdf');
    const without = (await put('')).json();
    expect(without.reading.method).toBeUndefined();
    expect(without.reading_id).not.toBe(reading_id);

    const masked = (await put('&mask=0-3')).json();
    expect(masked.reading.masked).toEqual([{ start_s: 0, end_s: 180, reason: 'asked for' }]);

    for (const [query, status, words] of [
      ['&setup=setup-9', 404, 'unknown bench item'],
      ['&setup=reading-1', 400, 'the id of a set-up on the bench'],
      ['&mask=5-3', 400, 'invalid mask: 5-3'],
    ] as const) {
      const reply = await put(query);
      expect(reply.statusCode).toBe(status);
      expect(reply.json().error).toContain(words);
    }
    const { gradient: _, ...plain } = setup;
    const kept = await app.inject({ method: 'POST', url: '/api/setups', headers: local, payload: plain });
    const { setup_id } = kept.json();
    const refused = (await put(`&setup=${setup_id}`)).json();
    expect(refused.error).toContain(`missing gradient: ${setup_id}; expected a set-up with a gradient table`);
    const bad = await app.inject({
      method: 'POST',
      url: '/api/setups',
      headers: local,
      payload: { feed: 1 },
    });
    expect(bad.statusCode).toBe(400);
  });

  it('that is broken off stores nothing', async () => {
    const { server, bench } = await listening();
    const body = runBytes();
    for (const withLength of [true, false]) {
      await brokenOffUpload(server.address, body, withLength);
      await new Promise((resolve) => setTimeout(resolve, 500));
      expect(await bench.list()).toEqual([]);
    }
    expect((await fetch(`${server.address}/api/status`)).status).toBe(200);
  });

  it('that is refused early gets its answer and leaves the server well', async () => {
    const { server, bench } = await listening();
    for (const size of [100_000, 30_000_000]) {
      const reply = await fetch(`${server.address}/api/runs?name=picture.mzML`, {
        method: 'PUT',
        headers: { 'content-type': 'application/octet-stream' },
        body: new Uint8Array(size).fill(7),
      });
      expect(reply.status).toBe(400);
      const { error } = (await reply.json()) as { error: string };
      expect(error).toMatch(/; expected /);
      expect(error).not.toContain('broken off');
    }
    expect(await bench.list()).toEqual([]);
  });

  it('may take longer than any time limit on requests', async () => {
    const { app } = await injected();
    expect(app.server.requestTimeout).toBe(0);
    expect(app.server.timeout).toBe(0);
  });

  it('of something else, of nothing or without a name is refused', async () => {
    const { app, bench } = await injected();
    const headers = { ...local, 'content-type': 'application/octet-stream' };
    const put = (url: string, payload?: string) => app.inject({ method: 'PUT', url, payload, headers });
    const text = await put('/api/runs?name=a.mzML', 'hello');
    expect([text.statusCode, typeof text.json().error]).toEqual([400, 'string']);
    const nothing = await put('/api/runs?name=a.mzML');
    expect(nothing.statusCode).toBe(400);
    const nameless = await put('/api/runs', 'hello');
    expect(nameless.json().error).toMatch(/^missing name; expected/);
    expect(await bench.list()).toEqual([]);
  });
});

describe('the guard', () => {
  it.each([
    ['127.0.0.1', 200],
    ['localhost:4747', 200],
    ['[::1]:4747', 200],
    ['LOCALHOST', 200],
    ['bench.example', 403],
    ['127.0.0.1.bench.example', 403],
    ['localhost@bench.example', 403],
    ['127.0.0.1:4747:80', 403],
  ])('answers Host %s with %i', async (host, status) => {
    const { app } = await injected();
    const reply = await app.inject({ url: '/api/status', headers: { host } });
    expect(reply.statusCode).toBe(status);
    if (status === 403) expect(reply.json().error).toMatch(/^invalid Host header: .*; expected 127\.0\.0\.1/);
    expect((await app.inject({ url: '/', headers: { host } })).statusCode).toBe(status);
  });

  it.each([
    [{ origin: 'http://127.0.0.1:4747' }, 200],
    [{ 'sec-fetch-site': 'same-origin' }, 200],
    [{ origin: 'http://bench.example' }, 403],
    [{ origin: 'http://127.0.0.1:4748' }, 403],
    [{ origin: 'null' }, 403],
    [{ 'sec-fetch-site': 'cross-site' }, 403],
  ])('answers a write with %j with %i', async (extra, status) => {
    const { app, bench } = await injected();
    const headers: Record<string, string> = { ...local, ...(extra as Record<string, string>) };
    const reply = await app.inject({ method: 'POST', url: '/api/plans', payload: setup, headers });
    expect(reply.statusCode).toBe(status);
    expect(await bench.list()).toHaveLength(status === 200 ? 3 : 0);
  });

  it('lets pages load from here only', async () => {
    const { app } = await injected();
    for (const url of ['/', '/api/status', '/assets/none.js']) {
      const { headers } = await app.inject({ url, headers: local });
      expect(headers['content-security-policy']).toContain("default-src 'self'");
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['access-control-allow-origin']).toBeUndefined();
    }
  });
});

describe('the page', () => {
  it('is served for every address of its own', async () => {
    const { app } = await injected();
    for (const url of ['/', '/read', '/bench/run-3?x=1.5']) {
      const reply = await app.inject({ url, headers: local });
      expect([reply.statusCode, reply.headers['content-type']]).toEqual([
        200,
        expect.stringContaining('text/html'),
      ]);
      expect(reply.headers['cache-control']).toBe('no-cache');
    }
    const script = await app.inject({ url: '/assets/page-abc.js', headers: local });
    expect([script.statusCode, script.headers['cache-control']]).toEqual([
      200,
      expect.stringContaining('immutable'),
    ]);
    for (const url of ['/assets/none.js', '/../bench/bench.sqlite', '/..%2fbench%2fbench.sqlite']) {
      const reply = await app.inject({ url, headers: local });
      expect(reply.statusCode).toBeGreaterThanOrEqual(400);
    }
  });

  it('that is not built yet says so', async () => {
    const { bench, folder } = await newBench();
    const app = await buildServer({ bench, webRoot: join(folder, 'none') });
    ends.push(() => app.close());
    const reply = await app.inject({ url: '/', headers: local });
    expect([reply.statusCode, reply.json().error]).toEqual([
      404,
      'missing page: not built yet; expected npm run build to have run',
    ]);
  });
});

describe('starting', () => {
  it('says in one line that the port is busy', async () => {
    const { server, bench } = await listening();
    const port = Number(new URL(server.address).port);
    expect(new URL(server.address).hostname).toBe('127.0.0.1');
    const other = port < 65535 ? port + 1 : 4747;
    await expect(startServer({ bench, port })).rejects.toThrow(
      `invalid port: ${port}, already in use; expected a free port, for example --port ${other}`,
    );
  });

  it('refuses to listen to a network', async () => {
    const { bench } = await newBench();
    await expect(startServer({ bench, host: '0.0.0.0', port: 0 })).rejects.toThrow(
      /^invalid host: 0\.0\.0\.0; expected one of/,
    );
    await expect(startServer({ bench, port: 70000 })).rejects.toThrow(/^out of range port: 70000/);
  });
});

function piecesOf(bytes: Buffer): ReadableStream<Uint8Array> {
  let at = 0;
  return new ReadableStream({
    pull(controller) {
      if (at >= bytes.length) return controller.close();
      controller.enqueue(new Uint8Array(bytes.subarray(at, at + 100_000)));
      at += 100_000;
    },
  });
}

/** Sends half of the bytes, then drops the connection. */
function brokenOffUpload(address: string, bytes: Buffer, withLength: boolean): Promise<void> {
  return new Promise((resolve) => {
    const upload = httpRequest(`${address}/api/runs?name=night.mzML`, {
      method: 'PUT',
      headers: {
        'content-type': 'application/octet-stream',
        ...(withLength ? { 'content-length': String(bytes.length) } : {}),
      },
    });
    upload.on('error', () => {});
    upload.on('close', () => resolve());
    upload.write(bytes.subarray(0, Math.floor(bytes.length / 2)), () => {
      setTimeout(() => upload.destroy(), 100);
    });
  });
}
