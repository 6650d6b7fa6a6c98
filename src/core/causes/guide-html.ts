/**
 * The guide for the night as one self-contained HTML page: large print, one step after the other, the safe state before
 * each touch, room to write what was done. No script, no address, prints on paper.
 */
import { escaped } from '../picture.ts';
import { type Explanation, REGIME_IS_INFERENCE } from './causes-text.ts';
import { GATE_STEPS, LOCAL_RULES, STOP_RULE } from './gates.ts';
import type { Fault, SafetyGate } from './types.ts';

const TESTS = 4;
const CAUSES = 3;

export interface GuideHeading {
  title: string;
  /** What is known of emitter, run and time; each line printed under the title. */
  lines: readonly string[];
  /** What was measured and answered, printed after the steps. */
  seen?: readonly string[] | undefined;
  /** What was done already, with its times. */
  log?: readonly string[] | undefined;
}

export function guideHtml(
  heading: GuideHeading,
  { ranked, next, inference }: Explanation,
  faults: readonly Fault[],
): string {
  const tests = next
    .slice(0, TESTS)
    .map(({ question, how, minutes, gate }) =>
      step(question, gate, `${escaped(how)} <span class="time">${minutes} min</span>`, 'Answer:'),
    );
  const cures = ranked.causes.slice(0, CAUSES).flatMap(({ fault: id, name, probability }) => {
    const fault = faults.find((one) => one.id === id);
    if (fault === undefined) return [];
    const actions = fault.actions.map(({ gate, words }, k) =>
      step(`${k + 1}. ${words}`, gate, '', 'Done, and what changed:'),
    );
    return [
      `<h2>If it is: ${escaped(name)} (${Math.round(100 * probability)} %)</h2><p>${escaped(fault.numbers)}</p>`,
      ...actions,
    ];
  });
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(heading.title)}</title><style>${STYLE}</style></head><body>
<h1>${escaped(heading.title)}</h1>
${heading.lines.map((line) => `<p>${escaped(line)}</p>`).join('\n')}
<p class="first">${escaped(ranked.sentence)}</p>
${inference ? `<p>${escaped(REGIME_IS_INFERENCE)}</p>` : ''}
<p class="stop"><strong>Stop rule.</strong> ${escaped(STOP_RULE)}</p>
<p>${escaped(LOCAL_RULES)}</p>
<h2>Find out, one step at a time</h2>
${tests.length > 0 ? tests.join('\n') : '<p>Nothing left to ask would tell more.</p>'}
${cures.join('\n')}
${listed('What was seen', heading.seen)}${listed('What was done', heading.log)}</body></html>
`;
}

function listed(title: string, lines: readonly string[] = []): string {
  if (lines.length === 0) return '';
  return `<h2>${escaped(title)}</h2><ol>${lines.map((line) => `<li>${escaped(line)}</li>`).join('')}</ol>\n`;
}

function step(title: string, gate: SafetyGate, body: string, blank: string): string {
  const first = GATE_STEPS[gate].map((line) => `<li>☐ ${escaped(line)}</li>`).join('');
  return `<section><h3>${escaped(title)}</h3>${first === '' ? '' : `<ul class="gate">${first}</ul>`}${body === '' ? '' : `<p>${body}</p>`}<p class="blank">☐ ${escaped(blank)}</p></section>`;
}

const STYLE =
  ':root{color-scheme:light dark}body{font:20px/1.5 system-ui,sans-serif;max-width:44rem;margin:1rem auto;padding:0 1rem}' +
  'h1{font-size:1.7rem}h2{font-size:1.35rem;margin-top:2rem;border-top:2px solid}h3{font-size:1.15rem;margin:0 0 .5rem}' +
  'section{border:2px solid;border-radius:.5rem;padding:1rem;margin:1rem 0;break-inside:avoid}' +
  '.gate{list-style:none;padding:.5rem .75rem;margin:0;border-left:6px double}.gate li{min-height:2.2rem}' +
  '.first{font-size:1.3rem;font-weight:600}.stop{border:3px double;padding:.75rem}.time{white-space:nowrap}' +
  '.blank{min-height:4rem;border-bottom:1px dashed}@media print{body{font-size:16pt;margin:0}}';
