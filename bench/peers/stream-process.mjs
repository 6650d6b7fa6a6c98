// Reads a whole trace as the command line does, in a process of its own, and prints what it took.
import { existsSync, readFileSync } from 'node:fs';
import { readTrace } from '../../dist/app/read-trace.js';

const start = performance.now();
const told = [];
const { reading, statistics } = await readTrace(process.argv[2], {
  onProgress: () => told.push(performance.now()),
});
const seconds = (performance.now() - start) / 1000;
// Where the system does not tell the peak of this process alone, the one that counts the parent's too.
const own =
  existsSync('/proc/self/status') && /VmHWM:\s*(\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1];
process.stdout.write(
  JSON.stringify({
    seconds,
    peak_MB: (own ? Number(own) : process.resourceUsage().maxRSS) / 1024,
    samples: statistics.samples,
    windows: reading.windows.length,
    progress: told.length,
    longest_silence_s: Math.max(0, ...told.map((at, k) => at - (told[k - 1] ?? start))) / 1000,
    stretches: reading.timeline.map(({ start_s, end_s, regime }) => ({ start_s, end_s, regime })),
  }),
);
