/** The document under the form: reading and setting by dotted path, and the few choices that carry others with them. */

import { createContext, useContext } from 'react';
import type { Fault } from '../../core/errors.ts';
import { isSalt } from '../../core/setup.ts';
import { isRecord } from '../address.ts';

export type SetupDraft = Record<string, unknown>;

export interface DraftDesk {
  draft: SetupDraft;
  set: (path: string, value: unknown) => void;
  replace: (draft: SetupDraft) => void;
  faults: readonly Fault[];
}

export const DraftContext = createContext<DraftDesk | null>(null);

export function useDraft(): DraftDesk {
  const desk = useContext(DraftContext);
  if (!desk) throw new Error('missing draft: the form stands outside its page');
  return desk;
}

export function valueAt(draft: unknown, path: string): unknown {
  let value: unknown = draft;
  for (const key of path.split('.')) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<string, unknown>)[key];
  }
  return value;
}

/** A copy with one value changed; undefined removes the key. */
export function withValue(draft: SetupDraft, path: string, value: unknown): SetupDraft {
  return changed(draft, path.split('.'), value) as SetupDraft;
}

/** Another additive needs its amount in its own unit, and only there. */
export function withAdditive(draft: SetupDraft, additive: string): SetupDraft {
  const next = withValue(draft, 'liquid.additive', additive);
  const salt = isSalt(additive);
  const acid = additive !== 'none' && !salt;
  const percent = valueAt(draft, 'liquid.additive_percent') ?? 0.1;
  const mM = valueAt(draft, 'liquid.additive_mM') ?? 10;
  return withValue(
    withValue(next, 'liquid.additive_percent', acid ? percent : undefined),
    'liquid.additive_mM',
    salt ? mM : undefined,
  );
}

/** A liquid junction needs a column of liquid; contact at the tip has none. */
export function withContact(draft: SetupDraft, contact: string): SetupDraft {
  const piece = { bore_um: 50, length_mm: 100, open_fraction: 1 };
  const column = valueAt(draft, 'voltage.column');
  const kept = Array.isArray(column) && column.length > 0 ? column : [piece];
  return withValue(
    withValue(draft, 'voltage.contact', contact),
    'voltage.column',
    contact === 'tip' ? [] : kept,
  );
}

export function withFeed(draft: SetupDraft, kind: string): SetupDraft {
  return withValue(
    draft,
    'feed',
    kind === 'static' ? { kind, back_pressure_mbar: 20 } : { kind, flow_nL_min: 300 },
  );
}

export function withGradient(draft: SetupDraft, on: boolean): SetupDraft {
  const start = {
    bottle_A_organic_percent: 0,
    bottle_B_organic_percent: 80,
    organic: 'acetonitrile',
    table: [
      { time_min: 0, percent_B: 5 },
      { time_min: 60, percent_B: 40 },
      { time_min: 65, percent_B: 95 },
    ],
  };
  return withValue(draft, 'gradient', on ? start : undefined);
}

/** '1,5' and '1.5' are numbers, '' is absent, anything else stays as typed for the contract to refuse. */
export function typedNumber(text: string): unknown {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (plain === '') return undefined;
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : text;
}

function changed(at: unknown, path: readonly string[], value: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return value;
  if (Array.isArray(at)) {
    const copy: unknown[] = [...at];
    copy[Number(key)] = changed(copy[Number(key)], rest, value);
    return copy;
  }
  const copy: Record<string, unknown> = { ...(isRecord(at) ? at : {}) };
  const next = changed(copy[key], rest, value);
  if (next === undefined) delete copy[key];
  else copy[key] = next;
  return copy;
}
