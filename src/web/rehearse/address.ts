/** The address of a rehearsal: emitter, how it is shown, fault and meter. */
import { faultsFor, METERS, type MeterName, rehearsalSetup } from '../../rehearsal/index.ts';

export interface Address {
  seed: number;
  blind: boolean;
  fault: string;
  meter: MeterName;
}

export function addressOf(search: string): Address {
  const query = new URLSearchParams(search);
  const seed = Number(query.get('seed') ?? FIRST_SEED);
  const meter = query.get('meter') ?? '';
  const fault = query.get('fault') ?? '';
  return {
    seed: Number.isInteger(seed) && seed >= 0 && seed <= 4294967295 ? seed : FIRST_SEED,
    blind: query.get('how') === 'blind',
    fault: faultsFor(rehearsalSetup.polarity).some(({ id }) => id === fault) ? fault : 'none',
    meter: Object.hasOwn(METERS, meter) ? (meter as MeterName) : 'wide',
  };
}

/** The bench a visitor meets first. */
const FIRST_SEED = 7;

export function hrefOf({ seed, blind, fault, meter }: Address): string {
  const query = new URLSearchParams({ seed: String(seed), meter });
  if (blind) query.set('how', 'blind');
  else if (fault !== 'none') query.set('fault', fault);
  return `/rehearse?${query}`;
}
