/** What the page asks its server: an explanation, and that a log be kept. */
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { ask, benchEntry, jsonBody } from '../api.ts';
import type { ExplainState } from './explain-address.ts';

export async function explanationOf(state: ExplainState): Promise<Explained> {
  const { reading, emitter, setup, current, answers, cannot } = state;
  const document = setup === undefined ? undefined : (await benchEntry(setup)).document;
  return ask(
    '/api/explain',
    jsonBody({
      answers,
      cannot,
      ...(reading === undefined ? {} : { reading_id: reading }),
      ...(emitter === undefined ? {} : { emitter }),
      ...(current === undefined ? {} : { current }),
      ...(document === undefined ? {} : { setup: document }),
    }),
  );
}

export function keepLog(on: string, lines: readonly string[], who: string): Promise<unknown> {
  return ask('/api/explain/log', jsonBody({ on, lines, ...(who === '' ? {} : { who }) }));
}
