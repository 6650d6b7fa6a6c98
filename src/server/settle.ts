/** The settle routes: sessions of this bench, a reading more, what is handed over. */
import type { FastifyInstance } from 'fastify';
import { type Bench, beginSettling, settleExport, settleFurther, settling, settlings } from '../app/index.ts';

type One = { Params: { id: string } };

export function addSettle(app: FastifyInstance, bench: Bench): void {
  app.get('/api/settlings', async () => ({ settlings: await settlings(bench) }));

  app.post('/api/settlings', (request) => beginSettling(bench, request.body));

  app.get<One>('/api/settlings/:id', (request) => settling(bench, request.params.id));

  app.post<One>('/api/settlings/:id/readings', (request) =>
    settleFurther(bench, request.params.id, request.body, new Date()),
  );

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
