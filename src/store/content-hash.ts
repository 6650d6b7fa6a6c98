/** SHA-256 over a document's canonical JSON: keys sorted at every depth, absent values left out. */
import { createHash } from 'node:crypto';

export function contentHash(document: unknown): string {
  return createHash('sha256').update(canonicalJson(document)).digest('hex');
}

export function canonicalJson(document: unknown): string {
  return JSON.stringify(document, (_key, value: unknown) =>
    value !== null && typeof value === 'object' && !Array.isArray(value)
      ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : value,
  );
}
