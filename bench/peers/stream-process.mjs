// Reads a whole trace as the command line does, in a process of its own, and prints what it took.
import { readTrace } from '../../dist/app/read-trace.js';

const start = performance.now();
const { reading, statistics } = await readTrace(process.argv[2], {});
const seconds = (performance.now() - start) / 1000;
const peak_MB = process.resourceUsage().maxRSS / 1024;
process.stdout.write(
  JSON.stringify({ seconds, peak_MB, samples: statistics.samples, windows: reading.windows.length }),
);
