/** The settle routes: sessions of this bench, a reading more, what is handed over. */
import type { FastifyInstance } from 'fastify';
import {
  type Bench,
  beginSettling,
  keepSettling,
  levelFromStream,
  pointObservations,
  proveSettling,
  settleExport,
  settleFurther,
  settleStart,
  settling,
  settlings,
} from '../app/index.ts';
import { type Query, withRunBody, word } from './request.ts';

type One = { Params: { id: string } };

export function addSettle(app: FastifyInstance, bench: Bench): void {
  app.get('/api/settlings', async () => ({ settlings: await settlings(bench) }));

  app.post('/api/settlings', (request) => beginSettling(bench, request.body));

  app.put<{ Querystring: Query }>('/api/levels', (request) =>
    withRunBody(request, (pieces) =>
      levelFromStream(pieces, word(request.query.name) || 'run', word(request.query.ion)),
    ),
  );

  app.get<{ Querystring: Query }>('/api/settlings/start', ({ query }) =>
    settleStart(bench, {
      reading: word(query.reading) || undefined,
      cause: word(query.cause) || undefined,
      probability: word(query.probability) || undefined,
      emitter: word(query.emitter) || undefined,
      setup: word(query.setup) || undefined,
    }),
  );

  app.get<One>('/api/settlings/:id', (request) => settling(bench, request.params.id));

  app.post<One>('/api/settlings/:id/readings', (request) =>
    settleFurther(bench, request.params.id, request.body, new Date()),
  );

  app.post<One>('/api/settlings/:id/proofs', (request) =>
    proveSettling(bench, request.params.id, request.body, new Date()),
  );

  app.post<One & { Querystring: Query }>('/api/settlings/:id/keep', (request) =>
    keepSettling(bench, request.params.id, word(request.query.who)),
  );

  app.get<{ Params: { file: string } }>('/api/points/:file', async (request, reply) => {
    const id = request.params.file.replace(/\.yaml$/, '');
    return reply
      .type('application/yaml; charset=utf-8')
      .header('content-disposition', `attachment; filename="${id}-observations.yaml"`)
      .send(await pointObservations(bench, id));
  });

  app.get<{ Params: { id: string; as: string } }>(
    '/api/settlings/:id/hand-over.:as',
    async (request, reply) => {
      const { id, as } = request.params;
      const { type, text } = await settleExport(bench, id, as);
      if (as !== 'html') void reply.header('content-disposition', `attachment; filename="${id}.${as}"`);
      return reply.type(type).send(text);
    },
  );
}
