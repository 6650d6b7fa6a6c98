import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '..');
const pureRooms = ['core', 'formats', 'evidence', 'rehearsal', 'contract'];
const banned = [/\bMath\.random\b/, /\bDate\.now\b/, /\bnew Date\(\)/, /\bconsole\./, /\bprocess\./];

function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sources(path);
    return /\.ts$/.test(entry.name) && !entry.name.endsWith('.test.ts') ? [path] : [];
  });
}

describe('pure rooms', () => {
  it.each(pureRooms)('%s uses no clock, console, process or global random', (room) => {
    const files = sources(join(root, 'src', room));
    expect(files.length).toBeGreaterThan(1);
    const found = files.flatMap((file) => {
      const text = readFileSync(file, 'utf8');
      return banned.filter((name) => name.test(text)).map((name) => `${file}: ${name}`);
    });
    expect(found).toEqual([]);
  });

  it('keeps default exports out of every room', () => {
    const found = sources(join(root, 'src')).filter(
      (file) => !/\.config\.ts$/.test(file) && /^export default/m.test(readFileSync(file, 'utf8')),
    );
    expect(found).toEqual([]);
  });
});

describe('the lock file', () => {
  it('names no address', () => {
    const lock = readFileSync(join(root, 'package-lock.json'), 'utf8');
    expect(lock.length).toBeGreaterThan(1000);
    expect(lock).not.toMatch(/"resolved"/);
  });
});
