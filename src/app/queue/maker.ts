/**
 * Names the code that makes readings: a hash over the files of the rooms that take part. A cached reading of other code is
 * then read again, without anyone having to remember to count a version up.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Setup } from '../../core/setup.ts';

const rooms = ['core/numeric', 'core/signal', 'core/gradient', 'formats', 'formats-node', 'evidence'];

let known: string | undefined;

/** Readings with stretches left out, or by a set-up, are others than those without: both become part of the name. */
export function maker(mask: readonly { start_s: number; end_s: number }[] = [], setup?: Setup): string {
  known ??= computed();
  const spans = mask.map((span) => `${span.start_s}-${span.end_s}`);
  return [known, ...spans, ...(setup?.gradient ? [`gradient ${hashOf(methodKey(setup))}`] : [])].join(' ');
}

/** What of a set-up the phases rest on, and the name the reading tells. */
function methodKey({ name, gradient, feed }: Setup): string {
  return JSON.stringify([name ?? '', gradient, feed]);
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}

function computed(): string {
  const hash = createHash('sha256');
  const root = fileURLToPath(new URL('../../', import.meta.url));
  const kind = extname(fileURLToPath(import.meta.url));
  const walk = (folder: string): void => {
    const entries = readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const entry of entries) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else if (entry.name.endsWith(kind) && !/\.(test|d)\.ts$/.test(entry.name)) {
        hash.update(`${entry.name}\n`).update(readFileSync(path));
      }
    }
  };
  for (const room of rooms) walk(join(root, room));
  return hash.digest('hex').slice(0, 16);
}
