/**
 * docs/troubleshooting.md, made by running it: each command is run in an empty folder with a bench of its own, and the lines of
 * its real output that `show` names are printed below it. `node --import tsx test/kit/troubleshooting-walk.ts` writes the page.
 */
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Advice } from '../../src/core/settling/index.ts';
import { commandAlone, commandHere } from './built-command.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
export const walkPage = join(root, 'docs', 'troubleshooting.md');

interface Step {
  run: string;
  /** Lines printed in the page; the others become '…'. */
  show: readonly RegExp[];
}
type Part = string | Step | typeof readings;
type Caller = typeof commandHere | typeof commandAlone;

/** Of a rehearsal only its fault matters. */
const FAULT_ONLY = [/^Fault/];
/** All lines. */
const ALL = [/./];

/** Addresses `PLACE` in a command: where the search ended. */
const PLACE = 'PLACE';
const READINGS_MOST = 20;

/** Reads the simulated tip at each advised place until the search is done; the voltage stays. */
async function* readings(folder: string, call: Caller): AsyncGenerator<Step> {
  for (let k = 1; k <= READINGS_MOST; k++) {
    const { kind, to } = await adviceIn(folder, call);
    if (kind === 'done') return;
    yield {
      run: `steadycone rehearse --out step-${k} --seed 21 --voltage 1280 --offset=${to.lateral_x_mm} --seconds 1 --run-seconds 20 --write mzml`,
      show: [/cone-jet at/],
    };
    yield {
      run: `steadycone settle add lantern.log --run step-${k}/run.mzML --time ${60 * k}`,
      show: [/^(Set|Read|Stay|Lower|Raise)/],
    };
  }
  throw new Error(`not settled after ${READINGS_MOST} readings`);
}

async function adviceIn(folder: string, call: Caller): Promise<Advice> {
  return JSON.parse(await outputOf('steadycone settle next lantern.log --json', folder, call)) as Advice;
}

const walk: readonly Part[] = [
  '# Troubleshooting: a walk',
  'From a bad run to a proven working point, on the command line. The scene is ours and invented: tip 7 on the Lantern bench sprays well for three runs; in the fourth it drifts sideways. Every file comes from `steadycone rehearse`, nothing here is a measurement, and no supply is touched. The page does the same with buttons: Read, Explain, Settle, Bench.',
  'At a real source local rules and trained staff come first. High voltage off, read back 0 V, wait, ground the contact, then touch. Interlocks stay as they are. A voltage is raised only with the yes of a person at the source.',
  'Every command below is run by `npm test` (`test/cli/troubleshooting.test.ts`) and its output is real; `…` stands for lines left out. `node --import tsx test/kit/troubleshooting-walk.ts` writes this page anew.',
  '## 1. Three good runs and one bad',
  ...[1, 2, 3].flatMap((k): Part[] => [
    {
      run: `steadycone rehearse --out night --seed 21 --voltage ${1270 + 5 * k} --seconds 1 --run-seconds 240 --write mzml`,
      show: k === 1 ? [/^Invented/, /cone-jet at/, /^Fault/] : FAULT_ONLY,
    },
    { run: `mv night/run.mzML night/run-${k}.mzML`, show: [] },
    { run: 'rm night/truth.json', show: [] },
  ]),
  {
    run: 'steadycone rehearse --out night --seed 21 --fault offset-drift --fault-at 60 --voltage 1280 --seconds 1 --run-seconds 240 --write mzml',
    show: FAULT_ONLY,
  },
  { run: 'mv night/run.mzML night/run-4.mzML', show: [] },
  '## 2. Read them as one queue',
  'The label names the emitter. Its good runs say later what is usual.',
  {
    run: 'steadycone read night --queue --label "tip 7"',
    show: [/^\d files/, /^First bad/, /run-\d\.mzML {2}/],
  },
  '## 3. Explain the bad one',
  'Nothing was looked at yet, so nothing is decided. The next test is the one that tells most for its time, and it is only a look.',
  {
    run: 'steadycone explain --reading reading-4',
    show: [/^Cannot be decided|^Most likely/, /^ +\d+ % /, /^Next:/, /^ {2}Look/, /^Stop and call/],
  },
  '## 4. Do the test, give its answer back',
  'You look through the microscope, door shut: a steady cone. The current meter shows the usual current. Moved 0.1 mm sideways from outside the closed source, the level rises clearly on one side.',
  {
    run: 'steadycone explain --reading reading-4 --saw meniscus=cone --saw current=usual --saw nudge=rise --did "Looked, door shut: a steady cone." --did "0.1 mm to one side: the level rises."',
    show: [/^Cannot be decided|^Most likely/, /^ +\d+ % /, /^The cure/, /^ {2}steadycone settle/],
  },
  'What was done stands on the bench as a note on the reading.',
  '## 5. Settle',
  'The cure is a position. The session keeps the cause and the reading that showed it.',
  { run: 'cat examples/settle-lantern.yaml', show: ALL },
  {
    run: 'steadycone settle new lantern.log --session examples/settle-lantern.yaml --because offset-drift --reading reading-4 --emitter "tip 7" --instrument "Lantern bench"',
    show: ALL,
  },
  'Set what it says, read, add the reading, and again. The readings come from the same hidden tip, at the places that the advice named.',
  readings,
  { run: 'steadycone settle next lantern.log', show: ALL },
  '## 6. Prove it',
  'A longer run at the working point, read like any other and linked to the session.',
  {
    run: 'steadycone rehearse --out after --seed 21 --voltage 1280 --offset=PLACE --seconds 1 --run-seconds 240 --write mzml',
    show: [/cone-jet at/],
  },
  { run: 'mv after/run.mzML after/run-5.mzML', show: [] },
  { run: 'steadycone settle prove lantern.log after/run-5.mzML', show: ALL },
  '## 7. Hand over, keep, feed the plan',
  {
    run: 'steadycone settle report lantern.log --html hand-over.html --observe seen.yaml --keep --who ab',
    show: ALL,
  },
  { run: 'steadycone bench list --kind point', show: ALL },
  { run: 'steadycone bench observe point-1', show: ALL },
  "With the set-up of this emitter the same rows narrow its plan. The set-up here is another example's: the command is what matters, not its numbers.",
  { run: 'steadycone plan examples/gradient-proteomics.yaml --observe seen.yaml', show: [/ became /] },
];

/** Runs every command in order; throws with its words where one fails. */
export async function walked(call: Caller = commandHere): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'steadycone-walk-'));
  try {
    cpSync(join(root, 'examples'), join(folder, 'examples'), { recursive: true });
    return `${(await blocks(folder, call)).join('\n\n')}\n`;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function blocks(folder: string, call: Caller): Promise<string[]> {
  const made: string[] = [];
  let open: string[] = [];
  const close = () => {
    if (open.length > 0) made.push(['```console', ...open, '```'].join('\n'));
    open = [];
  };
  for (const part of walk) {
    if (typeof part === 'string') {
      close();
      made.push(part);
    } else
      for await (const step of typeof part === 'function' ? part(folder, call) : [part]) {
        const run = step.run.includes(PLACE)
          ? step.run.replace(PLACE, String((await adviceIn(folder, call)).to.lateral_x_mm))
          : step.run;
        open.push(`$ ${run}`, ...shown(await outputOf(run, folder, call), step.show));
      }
  }
  close();
  return made;
}

async function outputOf(command: string, folder: string, call: Caller): Promise<string> {
  const [program, ...args] = [...command.matchAll(/"([^"]*)"|(\S+)/g)].map(
    ([, quoted, plain]) => quoted ?? plain!,
  );
  if (program === 'mv') {
    renameSync(join(folder, args[0]!), join(folder, args[1]!));
    return '';
  }
  if (program === 'rm') {
    rmSync(join(folder, args[0]!));
    return '';
  }
  if (program === 'cat') return readFileSync(join(folder, args[0]!), 'utf8');
  const { code, out, err } = await call(args, { cwd: folder, home: join(folder, 'bench') });
  if (code !== 0) throw new Error(`${command}\nended with ${code}: ${err}`);
  return out;
}

function shown(text: string, show: readonly RegExp[]): string[] {
  const lines: string[] = [];
  for (const line of text.trimEnd().split('\n')) {
    const kept = show === ALL || show.some((pattern) => pattern.test(line));
    if (kept) lines.push(undated(line).trimEnd());
    else if (lines.at(-1) !== '…' && line.trim() !== '') lines.push('…');
  }
  return show.length === 0 ? [] : lines;
}

/** Days and hours differ from run to run. */
function undated(line: string): string {
  return line.replace(/\d{4}-\d\d-\d\d \d\d:\d\d/g, 'YYYY-MM-DD hh:mm');
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href)
  writeFileSync(walkPage, await walked(commandAlone));
