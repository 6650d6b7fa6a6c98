/** An explanation for a terminal: what was measured and where, then the causes, then what is missing. */
import { explanationText, FAULTS } from '../../core/causes/index.ts';
import type { RunExplanation } from './explain-run.ts';

export function explainRunText(explanation: RunExplanation): string {
  const { findings, missing, nothing_wrong } = explanation;
  const lines: string[] = [];
  if (nothing_wrong !== null) lines.push(nothing_wrong, '');
  if (findings.length > 0) {
    lines.push('Measured');
    for (const { observable, sentence } of findings) lines.push(`  ${sentence} [${observable}]`);
    lines.push('');
  }
  lines.push(explanationText(explanation, FAULTS));
  if (findings.length > 0 && missing.length > 0)
    lines.push('', 'Missing', ...missing.map(({ sentence }) => `  ${sentence}`));
  return lines.join('\n');
}
