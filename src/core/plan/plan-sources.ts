/**
 * What each number of a plan rests on, collected from the plan itself: every value with a range carries its basis and
 * sources, so nothing here can cite what was not used.
 */

import type { Estimate } from '../estimate.ts';

export interface CitedNumber {
  /** Path in the plan's JSON, for example `liquid.conductivity_S_m`. */
  number: string;
  value: number;
  low: number;
  high: number;
  basis: string;
  sources: string[];
  valid: boolean;
  note?: string | undefined;
}

export function citedNumbers(document: object): CitedNumber[] {
  const found: CitedNumber[] = [];
  collect(document, '', found);
  return found;
}

/** Each number with its model and the numbers of its sources, then the numbered sources, each once. */
export function sourcesText(document: object): string {
  const cited = citedNumbers(document);
  const bibliography = [...new Set(cited.flatMap(({ sources }) => sources))];
  const lines = ['Each number, its model, its sources'];
  for (const { number, basis, sources, valid } of cited) {
    const places = sources.map((source) => bibliography.indexOf(source) + 1).join(', ');
    lines.push(`  ${number}${valid ? '' : ' *'}: ${basis} [${places}]`);
  }
  lines.push('', 'Sources');
  bibliography.forEach((source, index) => {
    lines.push(`  [${index + 1}] ${source}`);
  });
  lines.push('', '* outside the stated validity of its model.');
  return lines.join('\n');
}

function collect(value: unknown, path: string, found: CitedNumber[]): void {
  if (typeof value !== 'object' || value === null) return;
  if (isCited(value)) {
    const { value: middle, low, high, basis, sources, valid, note } = value;
    found.push({ number: path, value: middle, low, high, basis, sources: [...sources], valid, note });
    return;
  }
  for (const [key, part] of Object.entries(value)) {
    // A list of numbers along time or voltage repeats the models of its rows.
    if (Array.isArray(part) && typeof part[0] === 'number') continue;
    collect(part, path === '' ? key : `${path}.${key}`, found);
  }
}

function isCited(value: object): value is Estimate {
  return 'basis' in value && typeof value.basis === 'string' && 'sources' in value && 'valid' in value;
}
