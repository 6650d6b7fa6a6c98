/** The explain routes: causes of what was seen, and the log of what was done. */
import type { FastifyInstance } from 'fastify';
import { type Bench, explainKept, keepExplainLog } from '../app/index.ts';
import { explainLogFrom, explainRequestFrom } from '../contract/index.ts';

export function addExplain(app: FastifyInstance, bench: Bench): void {
  app.post('/api/explain', (request) => explainKept(bench, explainRequestFrom(request.body)));

  app.post('/api/explain/log', async (request) => ({
    items: await keepExplainLog(bench, explainLogFrom(request.body)),
  }));
}
