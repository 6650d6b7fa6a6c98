import { createInterface } from 'node:readline';
import { Command } from 'commander';
import {
  type Explained,
  type ExplainMore,
  type ExplainSource,
  explainRunText,
  explainSession,
  keepExplainLog,
  loadSetupFile,
} from '../app/index.ts';
import { FAULTS, guideHtml, OBSERVABLES, periodMeaning } from '../core/causes/index.ts';
import { inputError } from '../core/errors.ts';
import { withBench } from './keep.ts';
import { writeText } from './output-file.ts';

interface ExplainOptions {
  saw: string[];
  cannot: string[];
  reading?: string;
  setup?: string;
  emitter?: string;
  did: string[];
  who: string;
  ask?: true;
  list?: true;
  period?: string;
  flow?: string;
  scan?: string;
  plunger?: string;
  html?: string;
  json?: true;
}

interface Answer {
  observable: string;
  outcome: string;
}

/** Further down the list no cure is offered. */
const SETTLED_AMONG = 3;
const collect = (value: string, before: string[]) => [...before, value];

export function explainCommand(): Command {
  return new Command('explain')
    .description(
      'ranked causes of what a run shows or you see, and the next test that tells most for its time',
    )
    .argument('[file]', 'a run file, mzML or mzXML, plain or gzip')
    .option('--reading <id>', 'a reading of the bench in place of a file, reading-3 say')
    .option('--setup <file>', 'the set-up, so that the plan is held against what is set')
    .option('--emitter <name>', "the label of the emitter's queue: its earlier runs say what is usual")
    .option('--saw <question=answer>', 'what was seen, as often as you like; --list names them', collect, [])
    .option('--cannot <question>', 'a question you cannot answer', collect, [])
    .option('--ask', 'ask one question after the other, on a terminal')
    .option('--list', 'every question with its answers')
    .option('--period <s>', 'what a repetition time would mean; with --flow, and --scan or --plunger')
    .option('--flow <nL/min>', 'flow rate for --period')
    .option('--scan <s>', 'interval of the scans for --period')
    .option('--plunger <mm>', 'bore of the syringe or pump chamber for --period')
    .option('--html <file>', 'the guide for the night as one page that needs no network')
    .option('--did <what>', 'keep what was done as a note on the reading, as often as you like', collect, [])
    .option('--who <name>', 'initials stored with it', '')
    .option('--json', 'everything as JSON')
    .action(async (file: string | undefined, options: ExplainOptions) => {
      if (options.list) return print(listing());
      if (options.period !== undefined) return print(periodText(options));
      if (options.did.length > 0 && options.reading === undefined)
        throw inputError('missing', '--reading', '', 'the reading that --did is kept with');
      const answers = options.saw.map(answerOf);
      const cannot = [...options.cannot];
      for (const id of cannot) known(id);
      const source: ExplainSource = {
        ...(file === undefined ? {} : { file }),
        ...(options.reading === undefined ? {} : { reading_id: options.reading }),
        ...(options.emitter === undefined ? {} : { emitter: options.emitter }),
        ...(options.setup === undefined ? {} : { setup: await loadSetupFile(options.setup) }),
      };
      const benched = file !== undefined || options.reading !== undefined || options.emitter !== undefined;
      await withBench(benched, async (bench) => {
        const more = await explainSession(bench, source);
        if (options.ask) await askOn(more, answers, cannot);
        const explained = more(answers, cannot);
        if (bench !== undefined && options.reading !== undefined && options.did.length > 0)
          await keepExplainLog(bench, { on: options.reading, lines: options.did, who: options.who });
        if (options.html !== undefined) {
          await writeText(options.html, guideOf(explained, answers, options.did), true);
          process.stderr.write(`steadycone: wrote ${options.html}\n`);
        }
        if (options.json) return print(JSON.stringify(explained, null, 2));
        print(explainRunText(explained));
        const settle = settleLine(explained, file);
        if (settle !== undefined) print(`\n${settle}`);
      });
    });
}

/** A cause among the first few whose cure is a voltage or a position leads to a settle session. */
function settleLine(
  { ranked, reading_id, emitter }: Explained,
  file: string | undefined,
): string | undefined {
  const cause = ranked.causes
    .slice(0, SETTLED_AMONG)
    .find(({ fault }) => FAULTS.some(({ id, settle }) => id === fault && settle === true));
  if (cause === undefined) return undefined;
  const given = [
    `--because ${cause.fault} --sure ${cause.probability.toFixed(2)}`,
    ...(reading_id !== null ? [`--reading ${reading_id}`] : file !== undefined ? [`--run ${file}`] : []),
    ...(emitter === null ? [] : [`--emitter "${emitter}"`]),
  ];
  return `The cure of ${cause.name} is a voltage or a position. To settle it:\n  steadycone settle new LOG --session FILE ${given.join(' ')}`;
}

function guideOf(explained: Explained, answers: readonly Answer[], did: readonly string[]): string {
  const lines = [
    ...(explained.invented ? ['Invented data.'] : []),
    ...(explained.file === null ? [] : [`Run ${explained.file}.`]),
  ];
  const seen = [...explained.findings.map(({ sentence }) => sentence), ...answers.map(seenLine)];
  return guideHtml({ title: 'What to do now', lines, seen, log: did }, explained, FAULTS);
}

function answerOf(entry: string): Answer {
  const [observable = '', outcome = ''] = entry.split('=');
  const { outcomes } = known(observable);
  if (!outcomes.some(({ id }) => id === outcome))
    throw inputError(
      'unknown',
      `answer to ${observable}`,
      outcome,
      `one of ${outcomes.map(({ id }) => id).join(', ')}`,
    );
  return { observable, outcome };
}

function known(id: string) {
  const found = OBSERVABLES.find((o) => o.id === id);
  if (found === undefined)
    throw inputError(
      'unknown',
      'question',
      id,
      'one that `steadycone explain --list` names, for example level=lower',
    );
  return found;
}

function seenLine({ observable, outcome }: Answer): string {
  const { question, outcomes } = known(observable);
  return `${question} ${outcomes.find(({ id }) => id === outcome)?.words ?? ''}`;
}

function listing(): string {
  return OBSERVABLES.map(
    ({ id, question, outcomes }) =>
      `${id}: ${question}\n${outcomes.map((o) => `    ${id}=${o.id}  ${o.words}`).join('\n')}`,
  ).join('\n');
}

function periodText(options: ExplainOptions): string {
  const number = (name: 'period' | 'flow' | 'scan' | 'plunger') => {
    const given = options[name];
    if (given === undefined) return undefined;
    const value = Number(given);
    if (!(value > 0 && Number.isFinite(value)))
      throw inputError('out of range', `--${name}`, given, 'a positive number with a decimal point');
    return value;
  };
  const [period_s, flow_nL_min] = [number('period'), number('flow')];
  if (period_s === undefined || flow_nL_min === undefined)
    throw inputError('missing', '--flow', '', 'the flow rate in nL/min beside --period');
  return periodMeaning({
    period_s,
    flow_nL_min,
    scan_interval_s: number('scan'),
    plunger_bore_mm: number('plunger'),
  }).sentences.join('\n');
}

/** One question at a time until the first cause is decided, nothing tells more, or the person stops. */
async function askOn(more: ExplainMore, answers: Answer[], cannot: string[]): Promise<void> {
  const lines = createInterface({ input: process.stdin });
  const typed = lines[Symbol.asyncIterator]();
  try {
    for (;;) {
      const { ranked, next } = more(answers, cannot);
      const test = next[0];
      if (ranked.decided || test === undefined) return;
      const { outcomes } = known(test.observable);
      const choices = outcomes.map(({ words }, k) => `  ${k + 1}  ${words}`).join('\n');
      process.stderr.write(`\n${test.question}\n  (${test.how})\n${choices}\n  c  cannot see    q  stop\n> `);
      const { value, done } = await typed.next();
      const word = done ? 'q' : value.trim().toLowerCase();
      if (word === 'q') return;
      const outcome = outcomes[Number(word) - 1];
      if (word === 'c') cannot.push(test.observable);
      else if (outcome) answers.push({ observable: test.observable, outcome: outcome.id });
      else
        process.stderr.write(`steadycone: unknown answer: ${word.slice(0, 40)}; expected a number, c or q\n`);
    }
  } finally {
    lines.close();
  }
}

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}
