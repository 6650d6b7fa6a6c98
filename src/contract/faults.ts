/**
 * Refusals of the schemas in the house grammar. Each kind of document has its own name in them, and its names are listed by
 * `steadycone schema KIND`.
 */
import type { z } from 'zod';
import type { Fault } from '../core/errors.ts';

/** Kinds of documents: what each is called, and where it is read. */
export const documentKinds = {
  setup: { name: 'set-up', read: 'plan, read --setup, rehearse --setup' },
  observations: { name: 'observations', read: 'plan --observe' },
  'settle-session': { name: 'settle session', read: 'settle new --session' },
  'settle-reading': { name: 'settle reading', read: '`reading` in a line of a settle log' },
  'settle-proof': { name: 'settle proof', read: '`proof` in a line of a settle log' },
  'explain-request': { name: 'request for an explanation', read: 'POST /api/explain' },
  'explain-log': { name: 'log of an explanation', read: 'POST /api/explain/log' },
} as const;

export type DocumentKind = keyof typeof documentKinds;

type Issue = z.core.$ZodIssue;

export function faultsIn(error: z.ZodError, document: unknown, kind: DocumentKind): Fault[] {
  return error.issues.flatMap((issue) => faultsOf(issue, document, kind));
}

function faultsOf(issue: Issue, document: unknown, kind: DocumentKind): Fault[] {
  const { name } = documentKinds[kind];
  const names = `\`steadycone schema ${kind}\` lists`;
  const where = issue.path.join('.') || name;
  const value = valueAt(document, issue.path);
  if (issue.path.length === 0 && (value === null || value === undefined))
    return [{ kind: 'missing', where, found: '', expected: `a document with the names that ${names}` }];
  const unit = unitOf(where);
  const shown = (v: unknown) => shownValue(v, unit);
  switch (issue.code) {
    case 'too_small':
    case 'too_big': {
      const bound = issue.code === 'too_small' ? `at least ${issue.minimum}` : `at most ${issue.maximum}`;
      const magnitude = where === 'voltage.supply_V' && issue.code === 'too_small';
      const what = issue.origin === 'number' ? unit : issue.origin === 'array' ? 'entries' : 'characters';
      return [
        {
          kind: 'out of range',
          where,
          found: shown(value),
          expected: `${bound} ${what}${magnitude ? ', a magnitude: polarity gives the sign' : ''}`.trim(),
        },
      ];
    }
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        kind: 'unknown' as const,
        where: issue.path.length === 0 ? key : `${where}.${key}`,
        found: shown(valueAt(document, [...issue.path, key])),
        expected: `a name that ${names}`,
      }));
    case 'invalid_value':
      if (value === undefined)
        return [{ kind: 'missing', where, found: '', expected: `one of ${issue.values.join(', ')}` }];
      return [{ kind: 'invalid', where, found: shown(value), expected: `one of ${issue.values.join(', ')}` }];
    case 'invalid_union':
      return [
        value === undefined
          ? { kind: 'missing', where, found: '', expected: 'pumped or static' }
          : {
              kind: 'invalid',
              where,
              found: shown(value),
              expected: 'pumped (with flow_nL_min) or static (with back_pressure_mbar)',
            },
      ];
    case 'invalid_type': {
      const expected =
        issue.expected === 'number'
          ? `a number${unit ? ` in ${unit}` : ''}`
          : issue.expected === 'object'
            ? 'a group of values'
            : issue.expected === 'string'
              ? 'text'
              : issue.expected === 'array'
                ? 'a list'
                : `${issue.expected}`;
      if (value === undefined) return [{ kind: 'missing', where, found: '', expected }];
      return [
        { kind: 'invalid', where, found: typeof value === 'number' ? String(value) : shown(value), expected },
      ];
    }
    default:
      return [{ kind: 'invalid', where, found: shown(value), expected: issue.message }];
  }
}

/** A value as the person wrote it, cut short; a group or list only by its kind where it cannot be written (an alias to itself). */
function shownValue(value: unknown, unit: string): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return `${value} ${unit}`.trim();
  try {
    return (JSON.stringify(value) ?? String(value)).slice(0, SHOWN_MOST);
  } catch {
    return Array.isArray(value) ? 'a list that holds itself' : 'a group that holds itself';
  }
}
const SHOWN_MOST = 120;

function valueAt(document: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = document;
  for (const key of path) {
    if (value === null || typeof value !== 'object') return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** The unit a name carries: `bore_um` → µm. */
function unitOf(path: string): string {
  const name = path.split('.').at(-1) ?? '';
  const units: [RegExp, string][] = [
    [/_um$/, 'µm'],
    [/_mm$/, 'mm'],
    [/_deg$/, '°'],
    [/_percent$|^percent_B$/, '%'],
    [/_mM$/, 'mmol/L'],
    [/_C$/, '°C'],
    [/_S_m$/, 'S/m'],
    [/_mN_m$/, 'mN/m'],
    [/_nL_min$/, 'nL/min'],
    [/_nL$/, 'nL'],
    [/_mbar$/, 'mbar'],
    [/_V$/, 'V'],
    [/_min$/, 'min'],
  ];
  return units.find(([pattern]) => pattern.test(name))?.[1] ?? '';
}
