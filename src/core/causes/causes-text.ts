/** Ranked causes and the next test as text for a terminal. */
import type { Belief } from './belief.ts';
import { GATE_STEPS, LOCAL_RULES, STOP_RULE } from './gates.ts';
import { type NextTest, nextTests } from './next-test.ts';
import { type RankedCauses, rankCauses } from './rank-causes.ts';
import type { Fault } from './types.ts';

const CAUSES_SHOWN = 5;
const TESTS_SHOWN = 3;
/** Regimes are named from a current trace or frames only. */
const SEES_REGIME = ['current', 'current-form', 'meniscus'];
export const REGIME_IS_INFERENCE =
  'Neither current nor microscope was used: cone-jet, pulsation or several jets are inferences here, not observations.';

export interface Explanation {
  ranked: RankedCauses;
  next: NextTest[];
  /** Present where no observation shows the regime itself. */
  inference?: string;
}

export function explain(belief: Belief, cannot: readonly string[] = []): Explanation {
  const next = nextTests(belief, cannot);
  const ranked = rankCauses(belief);
  if (!ranked.decided && belief.answers.size > 0 && next[0])
    ranked.sentence = `${ranked.sentence} To decide it: ${next[0].question}`;
  const seesRegime = SEES_REGIME.some((id) => belief.answers.has(id));
  return seesRegime ? { ranked, next } : { ranked, next, inference: REGIME_IS_INFERENCE };
}

export function explanationText({ ranked, next, inference }: Explanation, faults: readonly Fault[]): string {
  const lines = [ranked.sentence, ''];
  for (const { name, probability, present } of ranked.causes.slice(0, CAUSES_SHOWN))
    lines.push(
      `  ${percent(probability)}  ${name} (alone; ${percent(present).trim()} with or without another)`,
    );
  lines.push(
    `  ${percent(ranked.two_faults)}  two faults at once`,
    `  ${percent(ranked.outside)}  something not in the catalogue`,
    `  ${percent(rest(ranked))}  the other ${ranked.causes.length - CAUSES_SHOWN} causes together`,
  );
  if (ranked.why.length > 0) lines.push('', 'Why (bits for the first cause against the catalogue)');
  for (const { question, answer, bits_first_over_rest: bits } of ranked.why)
    lines.push(`  ${bits >= 0 ? '+' : ''}${bits.toFixed(1)}  ${question} ${answer}`);
  for (const remark of ranked.remarks) lines.push('', remark);
  if (inference) lines.push('', inference);
  const [best, ...more] = next.slice(0, TESTS_SHOWN);
  if (best === undefined) lines.push('', 'Nothing left to ask would tell more.');
  else {
    lines.push('', `Next: ${best.question}`, `  ${best.how} (${best.minutes} min)`, ...gate(best.gate));
    if (best.separates) lines.push(`  It tells ${best.separates[0]} from ${best.separates[1]}.`);
    for (const test of more) lines.push(`  or: ${test.question} (${test.minutes} min, [${test.observable}])`);
  }
  const first = faults.find(({ id }) => id === ranked.causes[0]?.fault);
  if (ranked.decided && first) {
    lines.push('', `What to do about ${first.name}`);
    first.actions.forEach((action, k) => {
      lines.push(`  ${k + 1}. ${action.words}`, ...gate(action.gate).map((line) => `  ${line}`));
    });
    lines.push(`  ${first.numbers}`, `  Sources: ${first.sources.join('; ')}`);
    for (const { fault, words } of first.lookAlikes)
      lines.push(`  Not to be taken for ${faults.find(({ id }) => id === fault)?.name ?? fault}: ${words}.`);
  }
  lines.push('', STOP_RULE, LOCAL_RULES);
  return lines.join('\n');
}

function rest({ causes }: RankedCauses): number {
  return causes.slice(CAUSES_SHOWN).reduce((sum, { probability }) => sum + probability, 0);
}

function gate(gate: NextTest['gate']): string[] {
  return GATE_STEPS[gate].map((step) => `  ! ${step}`);
}

function percent(p: number): string {
  return `${Math.round(100 * p)} %`.padStart(5);
}
