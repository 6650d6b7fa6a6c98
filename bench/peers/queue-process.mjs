// Reads a folder as `read DIR --queue --jobs N` does, in a process of its own; prints what it took. With a third argument the
// readings are kept on a bench in that folder.
import { openBench, queueReport, readQueue, runFilesOf } from '../../dist/app/index.js';

const [, , folder, jobs, keepIn] = process.argv;
const start = performance.now();
const bench = keepIn === undefined ? undefined : await openBench(keepIn);
let first_s = 0;
const queue = await readQueue(await runFilesOf(folder), {
  bench,
  label: 'bench',
  jobs: Number(jobs),
  onFile: () => {
    first_s ||= (performance.now() - start) / 1000;
  },
});
const report = queueReport(queue.files, { label: 'bench' });
await bench?.close();
const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
process.stdout.write(
  JSON.stringify({
    seconds: (performance.now() - start) / 1000,
    first_s,
    cpu_s: (userCPUTime + systemCPUTime) / 1e6,
    peak_MB: maxRSS / 1024,
    // Without what differs from one reading to the next by itself.
    told: JSON.stringify(queue.files.map(({ sha256, summary, metrics }) => ({ sha256, summary, metrics }))),
    counts: report.counts,
  }),
);
