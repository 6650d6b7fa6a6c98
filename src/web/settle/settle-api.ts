/** Settle sessions on this computer's bench. The advice comes with the session, a pure function of its log. */
import type { BenchItem, LevelRead, SettleListed, SettleOpen, SettleStart } from '../../contract/index.ts';
import type { SettleReading, SettleSession } from '../../core/settling/index.ts';
import type { Setup } from '../../core/setup.ts';
import { ask, jsonBody, whoQuery } from '../api.ts';

export function settlings(): Promise<{ settlings: SettleListed[] }> {
  return ask('/api/settlings');
}

export function settlingOf(id: string): Promise<SettleOpen> {
  return ask(`/api/settlings/${encodeURIComponent(id)}`);
}

/** A new session: what the page filled in, the whole set-up where one is known, and the reading that led here by its id. */
export type NewSettling = Omit<SettleSession, 'readings' | 'because'> & {
  setup?: Setup;
  because?: { cause: string; probability?: number | undefined; reading_id?: string };
};

export function settleStart(query: string): Promise<SettleStart> {
  return ask(`/api/settlings/start?${query}`);
}

export function newSettling(session: NewSettling): Promise<SettleOpen> {
  return ask('/api/settlings', jsonBody(session));
}

export function addReading(id: string, reading: Omit<SettleReading, 'time_s'>): Promise<SettleOpen> {
  return ask(`/api/settlings/${encodeURIComponent(id)}/readings`, jsonBody(reading));
}

/** Level and scatter of a run file, of one ion where `ion` names it; the run is not kept. */
export function levelOfRun(file: File, ion: string): Promise<LevelRead> {
  return ask(`/api/levels?${new URLSearchParams({ name: file.name, ion })}`, {
    method: 'PUT',
    headers: { 'content-type': 'application/octet-stream' },
    body: file,
  });
}

export function prove(id: string, proof: object): Promise<SettleOpen> {
  return ask(`/api/settlings/${encodeURIComponent(id)}/proofs`, jsonBody(proof));
}

export function keepPoint(id: string, who: string): Promise<{ item: BenchItem }> {
  return ask(`/api/settlings/${encodeURIComponent(id)}/keep${whoQuery(who)}`, jsonBody({}));
}
