/**
 * Reading a real run, side by side with the general reader that ships it (npm mzdata): whole file, every MS1 time and
 * summed intensity. Interleaved repeats, medians, ratio. A larger invented run shows that cost is linear in size.
 */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parseMZ } from 'mzdata';
import { readRun } from '../src/evidence/index.ts';
import { readRunFile } from '../src/formats-node/index.ts';
import { inventedRun } from '../src/rehearsal/index.ts';
import { median, megabytesPerSecond, timed } from './timing.ts';

const REPEATS = 5;
const real = join(
  dirname(createRequire(import.meta.url).resolve('mzdata/package.json')),
  'src',
  'mzxml',
  'lcMsMs.mzXML',
);

const ours: number[] = [];
const peer: number[] = [];
for (let i = 0; i < REPEATS; i++) {
  ours.push(await timed(() => readRunFile(real)));
  peer.push(await timed(async () => parseMZ(readFileSync(real))));
}
const bytes = statSync(real).size;
process.stdout.write(
  `real LC-MS/MS run of npm mzdata, ${(bytes / 1e6).toFixed(1)} MB, ${REPEATS} repeats, medians\n`,
);
process.stdout.write(
  `  steadycone   ${median(ours).toFixed(0)} ms  ${megabytesPerSecond(bytes, median(ours))} MB/s\n`,
);
process.stdout.write(
  `  npm mzdata   ${median(peer).toFixed(0)} ms  ${megabytesPerSecond(bytes, median(peer))} MB/s\n`,
);
process.stdout.write(`  ratio mzdata / steadycone ${(median(peer) / median(ours)).toFixed(2)}\n`);

const folder = mkdtempSync(join(tmpdir(), 'steadycone-bench-'));
try {
  const path = join(folder, 'invented.mzML');
  writeFileSync(path, [...inventedRun({ seed: 7 })].join(''));
  const size = statSync(path).size;
  const times: number[] = [];
  const evidence: number[] = [];
  for (let i = 0; i < REPEATS; i++) {
    let record: Awaited<ReturnType<typeof readRunFile>>['record'] | undefined;
    times.push(
      await timed(async () => {
        record = (await readRunFile(path)).record;
      }),
    );
    evidence.push(await timed(async () => readRun(record!)));
  }
  process.stdout.write(`invented mzML, seed 7, ${(size / 1e6).toFixed(1)} MB\n`);
  process.stdout.write(
    `  read         ${median(times).toFixed(0)} ms  ${megabytesPerSecond(size, median(times))} MB/s\n`,
  );
  process.stdout.write(`  evidence     ${median(evidence).toFixed(0)} ms\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
