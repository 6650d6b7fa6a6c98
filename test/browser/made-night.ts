/** A folder of invented runs, one after the other through a night, the later ones ever more ragged, and one that is no run. */
import { mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inventedRun } from '../../src/rehearsal/index.ts';

export function madeNight(count: number): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-night-'));
  const steady = Math.ceil(0.85 * count);
  const add = (number: number, name: string, text: string) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    const time = Date.UTC(2031, 1, 3, 18) / 1000 + 900 * number;
    utimesSync(path, time, time);
  };
  for (let number = 1; number <= count; number++) {
    const scatter = number <= steady ? 0.05 : 0.4;
    const text = [
      ...inventedRun({ seed: number, length_min: 3, faults: number === 3 ? 'planted' : 'none', scatter }),
    ];
    add(number, `run_${number}.mzML`, text.join(''));
  }
  add(count + 1, 'letter.mzML', 'hello');
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
