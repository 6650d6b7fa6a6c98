/** Settle sessions on this computer's bench. The advice comes with the session, a pure function of its log. */
import type { SettleListed, SettleOpen } from '../../contract/index.ts';
import type { SettleReading, SettleSession } from '../../core/settling/index.ts';
import { ask, jsonBody } from '../api.ts';

export function settlings(): Promise<{ settlings: SettleListed[] }> {
  return ask('/api/settlings');
}

export function settlingOf(id: string): Promise<SettleOpen> {
  return ask(`/api/settlings/${encodeURIComponent(id)}`);
}

export function newSettling(session: Omit<SettleSession, 'readings'>): Promise<SettleOpen> {
  return ask('/api/settlings', jsonBody(session));
}

export function addReading(id: string, reading: Omit<SettleReading, 'time_s'>): Promise<SettleOpen> {
  return ask(`/api/settlings/${encodeURIComponent(id)}/readings`, jsonBody(reading));
}
