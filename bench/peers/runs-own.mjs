// One process of ours for the comparison: `ms1 FILE` prints time and summed intensity of every MS1 spectrum, `full FILE`
// reads as the command does, with its ions and its evidence. Last line: peak memory [KiB] and processor time [s].
import { existsSync, readFileSync } from 'node:fs';

const [, , task, path] = process.argv;
let text = '';
if (task === 'ms1') {
  const { readRunFile } = await import('../../dist/formats-node/index.js');
  const { record } = await readRunFile(path);
  for (let i = 0; i < record.ms1_count; i += 1)
    text += `${record.time_s[i].toPrecision(9)} ${record.tic_summed[i].toPrecision(15)}\n`;
} else {
  const { readOneRun } = await import('../../dist/app/read-one-run.js');
  const { reading } = await readOneRun(path);
  text = `${reading.ms1_count} ${reading.verdict.grade}\n`;
}
// Where the system does not tell the peak of this process alone, the one that counts the parent's too.
const own =
  existsSync('/proc/self/status') && /VmHWM:\s*(\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1];
const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
process.stdout.write(`${text}used ${own || maxRSS} ${(userCPUTime + systemCPUTime) / 1e6}\n`);
