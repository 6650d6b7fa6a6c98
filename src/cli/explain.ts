import { writeFile } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { Command } from 'commander';
import {
  believe,
  explain,
  explanationText,
  FAULTS,
  guideHtml,
  OBSERVABLES,
  type Observation,
  periodMeaning,
} from '../core/causes/index.ts';
import { inputError } from '../core/errors.ts';

interface ExplainOptions {
  saw: string[];
  cannot: string[];
  ask?: true;
  list?: true;
  period?: string;
  flow?: string;
  scan?: string;
  plunger?: string;
  html?: string;
  json?: true;
}

const CATALOGUE = { faults: FAULTS, observables: OBSERVABLES };
const collect = (value: string, before: string[]) => [...before, value];

export function explainCommand(): Command {
  return new Command('explain')
    .description('ranked causes of what you see, and the next test that tells most for its time')
    .option('--saw <question=answer>', 'what was seen, as often as you like; --list names them', collect, [])
    .option('--cannot <question>', 'a question you cannot answer', collect, [])
    .option('--ask', 'ask one question after the other, on a terminal')
    .option('--list', 'every question with its answers')
    .option('--period <s>', 'what a repetition time would mean; with --flow, and --scan or --plunger')
    .option('--flow <nL/min>', 'flow rate for --period')
    .option('--scan <s>', 'interval of the scans for --period')
    .option('--plunger <mm>', 'bore of the syringe or pump chamber for --period')
    .option('--html <file>', 'the guide for the night as one page that needs no network')
    .option('--json', 'everything as JSON')
    .action(async (options: ExplainOptions) => {
      if (options.list) return print(listing());
      if (options.period !== undefined) return print(periodText(options));
      const observations = options.saw.map(observationOf);
      const cannot = [...options.cannot];
      for (const id of cannot) known(id);
      if (options.ask) await askOn(observations, cannot);
      const explanation = explain(believe(CATALOGUE, observations), cannot);
      if (options.html !== undefined) {
        const title = 'What to do now';
        await writeFile(
          options.html,
          guideHtml({ title, lines: observations.map(seenLine) }, explanation, FAULTS),
        );
        process.stderr.write(`steadycone: wrote ${options.html}\n`);
      }
      print(
        options.json
          ? JSON.stringify({ observations, ...explanation }, null, 2)
          : explanationText(explanation, FAULTS),
      );
    });
}

function observationOf(entry: string): Observation {
  const [observable = '', outcome = ''] = entry.split('=');
  const { outcomes } = known(observable);
  if (!outcomes.some(({ id }) => id === outcome))
    throw inputError(
      'unknown',
      `answer to ${observable}`,
      outcome,
      `one of ${outcomes.map(({ id }) => id).join(', ')}`,
    );
  return { observable, outcome, from: 'asked' };
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

function seenLine({ observable, outcome }: Observation): string {
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
async function askOn(observations: Observation[], cannot: string[]): Promise<void> {
  const lines = createInterface({ input: process.stdin });
  const answers = lines[Symbol.asyncIterator]();
  try {
    for (;;) {
      const { ranked, next } = explain(believe(CATALOGUE, observations), cannot);
      const test = next[0];
      if (ranked.decided || test === undefined) return;
      const { outcomes } = known(test.observable);
      const choices = outcomes.map(({ words }, k) => `  ${k + 1}  ${words}`).join('\n');
      process.stderr.write(`\n${test.question}\n  (${test.how})\n${choices}\n  c  cannot see    q  stop\n> `);
      const { value, done } = await answers.next();
      const word = done ? 'q' : value.trim().toLowerCase();
      if (word === 'q') return;
      const outcome = outcomes[Number(word) - 1];
      if (word === 'c') cannot.push(test.observable);
      else if (outcome)
        observations.push({ observable: test.observable, outcome: outcome.id, from: 'asked' });
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
