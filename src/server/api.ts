/** The HTTP routes, each a thin door to one task. */
import { basename } from 'node:path';
import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import {
  type Bench,
  benchMethodSetup,
  keepReading,
  keepSetup,
  keptReadingFile,
  maskFrom,
  planAndKeep,
  queueExport,
  readRunStream,
  storedComparison,
  storedQueue,
  storedQueueAgainstEarlier,
} from '../app/index.ts';
import { type BenchKind, benchKinds, type NoteRequest, planRequestFrom } from '../contract/index.ts';
import { InputError, inputError } from '../core/errors.ts';
import { addExplain } from './explain.ts';
import { type Query, withRunBody, word } from './request.ts';
import { addSettle } from './settle.ts';

export function addApi(app: FastifyInstance, bench: Bench): void {
  app.removeContentTypeParser('text/plain');
  // The run stays a stream: it is read as it arrives and never stands in memory as a whole.
  app.addContentTypeParser(
    'application/octet-stream',
    { bodyLimit: Number.MAX_SAFE_INTEGER },
    async (_: unknown, body: Readable) => body,
  );

  app.get('/api/status', () => ({
    version: bench.version,
    driver: bench.driver,
    folder: basename(bench.folder),
  }));

  app.post<{ Querystring: Query }>('/api/plans', async (request) => {
    const { setup, observations, sibling } = planRequestFrom(request.body);
    const { setup_id, plan_id, plan } = await planAndKeep(bench, setup, word(request.query.who), {
      observations,
      sibling,
    });
    return { setup_id, plan_id, plan };
  });

  app.post<{ Querystring: Query }>('/api/setups', (request) =>
    keepSetup(bench, request.body, word(request.query.who)),
  );

  app.put<{ Querystring: Query }>('/api/runs', async (request) => {
    const name = word(request.query.name);
    if (name === '')
      throw inputError('missing', 'name', '', 'the file name of the run, as in /api/runs?name=run.mzML');
    return withRunBody(request, async (pieces) => {
      const setup_id = word(request.query.setup);
      const setup = setup_id === '' ? undefined : await benchMethodSetup(bench, setup_id);
      const mask = maskFrom(word(request.query.mask));
      const run = await readRunStream(pieces, name, { setup, mask });
      const { reading } = run;
      try {
        return { ...(await keepReading(bench, run, word(request.query.who))), reading };
      } catch (error) {
        // What was read is worth more than its record: a full disk must not cost the reading.
        if (!(error instanceof InputError)) throw error;
        return { not_kept: error.message, reading };
      }
    });
  });

  app.get<{ Querystring: Query }>('/api/bench', async (request) => ({
    items: await bench.list({ kind: kindFrom(request.query.kind), query: word(request.query.q) }),
  }));

  app.get<{ Params: { id: string } }>('/api/bench/:id', (request) => bench.show(request.params.id));

  app.post('/api/notes', async (request) => ({ item: await bench.note(request.body as NoteRequest) }));

  app.get<{ Params: { file: string }; Querystring: Query }>('/api/readings/:file', async (request, reply) => {
    const against = word(request.query.against)
      .split(',')
      .filter((id) => id !== '');
    const { type, name, text } = await keptReadingFile(bench, request.params.file, against);
    return reply.type(type).header('content-disposition', `attachment; filename="${name}"`).send(text);
  });

  app.get('/api/queues', async () => ({ queues: await bench.store.queueLabels() }));

  app.get<{ Params: { label: string } }>('/api/queues/:label', (request) =>
    storedQueue(bench, request.params.label),
  );

  app.get<{ Params: { label: string }; Querystring: Query }>('/api/queues/:label/against', (request) =>
    storedComparison(bench, request.params.label, word(request.query.of)),
  );

  app.get<{ Params: { label: string } }>('/api/queues/:label/earlier', async (request) => ({
    files: await storedQueueAgainstEarlier(bench, request.params.label),
  }));

  app.get<{ Params: { label: string; as: string } }>('/api/queues/:label/:as', async (request, reply) => {
    const { type, text } = await queueExport(bench, request.params.label, request.params.as);
    const name = `queue.${request.params.as === 'mzqc' ? 'mzQC' : request.params.as}`;
    return reply.type(type).header('content-disposition', `attachment; filename="${name}"`).send(text);
  });

  addExplain(app, bench);
  addSettle(app, bench);

  app.get('/api/export', (_request, reply) =>
    reply
      .type('application/json; charset=utf-8')
      .header('content-disposition', 'attachment; filename="bench.json"')
      .send(Readable.from(bench.exportPieces())),
  );

  app.all('/api/*', (_request, reply) => {
    reply.code(404);
    throw inputError('unknown', 'address', '', 'one of the addresses that docs/architecture.md lists');
  });
}

function kindFrom(value: string | string[] | undefined): BenchKind | undefined {
  const text = word(value);
  if (text === '') return undefined;
  const kind = benchKinds.find((name) => name === text);
  if (!kind) throw inputError('unknown', 'kind', `"${text.slice(0, 60)}"`, `one of ${benchKinds.join(', ')}`);
  return kind;
}
