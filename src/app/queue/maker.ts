/**
 * Names the code that makes readings: a hash over the files of the rooms that take part. A cached reading of other code is
 * then read again, without anyone having to remember to count a version up.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const rooms = ['core/numeric', 'core/signal', 'formats', 'formats-node', 'evidence'];

let known: string | undefined;

/** Readings with stretches left out are others than those without: `mask` becomes part of the name. */
export function maker(mask: readonly { start_s: number; end_s: number }[] = []): string {
  known ??= computed();
  return [known, ...mask.map((span) => `${span.start_s}-${span.end_s}`)].join(' ');
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
