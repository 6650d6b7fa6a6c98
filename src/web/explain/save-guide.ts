/** The guide of this session as one HTML file that needs nothing else. */
import { FAULTS, guideHtml } from '../../core/causes/index.ts';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { saveText } from '../save.ts';
import { answerLine } from './answer-words.ts';
import type { ExplainState } from './explain-address.ts';

export function saveGuide(explained: Explained, state: ExplainState, log: readonly string[]): void {
  saveText('guide.html', 'text/html;charset=utf-8', guideText(explained, state, log));
}

function guideText(explained: Explained, state: ExplainState, log: readonly string[]): string {
  const seen = state.answers.map(({ observable, outcome }) => answerLine(observable, outcome));
  const heading = {
    title: 'What to do now',
    lines: [
      ...(explained.invented ? ['Invented data.'] : []),
      ...(explained.file === null ? [] : [`Run ${explained.file}.`]),
    ],
    seen: [...explained.findings.map(({ sentence }) => sentence), ...seen],
    log,
  };
  return guideHtml(heading, explained, FAULTS);
}
