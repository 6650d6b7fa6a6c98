import { Command } from 'commander';
import { type KeptPlan, keepPlan, loadObservations, loadSetupFile, type Plan } from '../app/index.ts';
import { inputError } from '../core/errors.ts';
import { gradientCsv, gradientText, rampCsv } from '../core/gradient/index.ts';
import { pictureSvg } from '../core/picture.ts';
import {
  gradientPicture,
  planCsv,
  planFor,
  planText,
  sourcesText,
  windowCsv,
  windowPicture,
} from '../core/plan/index.ts';
import type { Setup } from '../core/setup.ts';
import { keptOrNot, withBench } from './keep.ts';

interface PlanOptions {
  json?: true;
  csv?: true;
  ramp?: true;
  chances?: true;
  svg?: true;
  sources?: true;
  gradient?: true;
  observe?: string;
  sibling?: true;
  keep: boolean;
  who: string;
}

const PICTURE_WIDTH = 900;

export function planCommand(): Command {
  return new Command('plan')
    .description(
      'what to expect of one set-up: liquid, onset, window, current, droplets, gradient, how to start',
    )
    .argument('<setup>', 'set-up document, YAML or JSON')
    .option('--observe <file>', 'what was seen on this emitter (YAML or JSON): the plan is calibrated by it')
    .option(
      '--sibling',
      'with --observe: the plan is for the next emitter of the same batch, not for the one observed',
    )
    .option('--gradient', 'only the gradient: fixed voltage, ramp, minutes at risk; also for --csv and --svg')
    .option('--json', 'the whole plan with ranges, basis and sources as JSON')
    .option('--csv', 'the numbers with their ranges as CSV; with --gradient every moment of the run')
    .option('--chances', 'the chances of each state over the voltage as CSV')
    .option('--ramp', 'the voltage ramp of the gradient as CSV')
    .option('--svg', 'the chances over the voltage as SVG; with --gradient the window along the run')
    .option('--sources', 'each number with its model and sources')
    .option('--no-keep', 'do not store the set-up and plan on the bench')
    .option('--who <name>', 'initials stored with it', '')
    .action(async (path: string, options: PlanOptions) => {
      const setup = await loadSetupFile(path);
      if ((options.gradient || options.ramp) && setup.gradient === undefined)
        throw inputError(
          'missing',
          'gradient',
          `${path} has none`,
          'a set-up with a gradient for --gradient and --ramp',
        );
      if (options.sibling && options.observe === undefined)
        throw inputError(
          'missing',
          '--observe',
          '',
          'what was seen on an emitter of the same batch, for --sibling',
        );
      const observations = options.observe === undefined ? [] : await loadObservations(options.observe);
      await withBench(options.keep, async (bench) => {
        const plan = planFor(setup, { observations, sibling: options.sibling ?? false });
        const kept = await keptOrNot(bench, (open) => keepPlan(open, setup, plan, options.who));
        process.stdout.write(output(setup, plan, kept, options));
      });
    });
}

function output(setup: Setup, plan: Plan, kept: KeptPlan | undefined, options: PlanOptions): string {
  const gradient = plan.gradient;
  if (options.json) return `${JSON.stringify(planDocument(setup, plan, kept), null, 2)}\n`;
  if (options.sources) return `${sourcesText(plan)}\n`;
  if (options.chances) return windowCsv(plan);
  if (options.ramp && gradient) return rampCsv(gradient.ramp);
  if (options.csv) return options.gradient && gradient ? gradientCsv(gradient) : planCsv(plan);
  if (options.svg)
    return pictureSvg(
      options.gradient && gradient
        ? gradientPicture(gradient, PICTURE_WIDTH)
        : windowPicture(plan, PICTURE_WIDTH),
    );
  const stored = kept ? `\nKept as ${kept.plan_id} on the bench.\n` : '';
  if (options.gradient && gradient) return `${gradientText(gradient).join('\n')}\n${stored}`;
  return `${planText(setup, plan)}\n${stored}`;
}

/** One flat document: every number an object under a key that carries its unit, liquid and spray side by side. */
function planDocument(setup: Setup, { liquid, ...rest }: Plan, kept: KeptPlan | undefined): object {
  const ids =
    kept === undefined ? {} : { setup_id: kept.setup_id, emitter_id: kept.emitter_id, plan_id: kept.plan_id };
  return { ...ids, setup, ...liquid, ...rest };
}
