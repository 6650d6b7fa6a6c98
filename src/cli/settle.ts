/** `settle`: the commands of a session, from its log file. */
import { basename } from 'node:path';
import { Command } from 'commander';
import { keepWorkingPoint, openSettleLog } from '../app/index.ts';
import { handOver, handOverHtml, handOverText, observationsYaml } from '../core/settling/index.ts';
import { openedBench } from './keep.ts';
import { addCommand } from './settle-add.ts';
import { newCommand } from './settle-new.ts';
import { proveCommand } from './settle-prove.ts';
import { print, printAdvice, sayAll, written } from './settle-words.ts';

export function settleCommand(): Command {
  const root = new Command('settle').description(
    'the next voltage and position to try on one emitter, reading by reading; a person turns every knob',
  );
  root.addCommand(newCommand());
  root.addCommand(nextCommand());
  root.addCommand(addCommand());
  root.addCommand(proveCommand());
  root.addCommand(reportCommand());
  return root;
}

function nextCommand(): Command {
  return new Command('next')
    .description('the next step, why, and what to mind')
    .argument('<log>', 'file of the session')
    .option('--json', 'the advice as JSON')
    .action(async (path: string, options: { json?: true }) => {
      printAdvice(await openSettleLog(path), options.json);
    });
}

function reportCommand(): Command {
  return new Command('report')
    .description('one page to hand over: working point, window, margins, and rows for `plan --observe`')
    .argument('<log>', 'file of the session')
    .option('--html <file>', 'the page as one HTML file')
    .option('--observe <file>', "the rows for the plan's calibration as a file")
    .option('--keep', 'keep the working point on the bench')
    .option('--who <name>', 'initials stored with it', '')
    .option('--json', 'everything as JSON')
    .action(async (path: string, options: ReportOptions) => {
      const log = await openSettleLog(path);
      const { session, warnings } = log;
      sayAll(warnings);
      const over = handOver(session);
      if (options.html !== undefined) await written(options.html, handOverHtml(session, over));
      if (options.observe !== undefined) await written(options.observe, observationsYaml(over.observations));
      print(options.json ? JSON.stringify({ session, ...over }, null, 2) : handOverText(session, over));
      if (options.keep) {
        const { item } = await openedBench((bench) =>
          keepWorkingPoint(bench, log, basename(path), options.who),
        );
        if (!options.json) print(`\nKept as ${item.id} on the bench: ${item.title}`);
        else process.stderr.write(`steadycone: kept as ${item.id}\n`);
      }
    });
}

interface ReportOptions {
  html?: string;
  observe?: string;
  keep?: true;
  who: string;
  json?: true;
}
