import { Command } from 'commander';
import { type KeptPlan, keepPlan, loadSetupFile, type Plan } from '../app/index.ts';
import { planFor, planText } from '../core/plan/index.ts';
import type { Setup } from '../core/setup.ts';
import { keptOrNot, withBench } from './keep.ts';

interface PlanOptions {
  json?: true;
  keep: boolean;
  who: string;
}

export function planCommand(): Command {
  return new Command('plan')
    .description('what to expect of one set-up: liquid, onset, window, current, droplets, drop in the liquid')
    .argument('<setup>', 'set-up document, YAML or JSON')
    .option('--json', 'the whole plan with ranges, basis and sources as JSON')
    .option('--no-keep', 'do not store the set-up and plan on the bench')
    .option('--who <name>', 'initials stored with it', '')
    .action(async (path: string, options: PlanOptions) => {
      const setup = await loadSetupFile(path);
      await withBench(options.keep, async (bench) => {
        const plan = planFor(setup);
        const kept = await keptOrNot(bench, (open) => keepPlan(open, setup, plan, options.who));
        if (options.json)
          process.stdout.write(`${JSON.stringify(planDocument(setup, plan, kept), null, 2)}\n`);
        else
          process.stdout.write(
            `${planText(setup, plan)}\n${kept ? `\nKept as ${kept.plan_id} on the bench.\n` : ''}`,
          );
      });
    });
}

/** One flat document: every number an object under a key that carries its unit, liquid and spray side by side. */
function planDocument(setup: Setup, { liquid, ...rest }: Plan, kept: KeptPlan | undefined): object {
  const ids =
    kept === undefined ? {} : { setup_id: kept.setup_id, emitter_id: kept.emitter_id, plan_id: kept.plan_id };
  return { ...ids, setup, ...liquid, ...rest };
}
