import { expect, it } from 'vitest';
import { believe, explain, explanationText, FAULTS, guideHtml, OBSERVABLES } from './index.ts';

const CATALOGUE = { faults: FAULTS, observables: OBSERVABLES };
const BELIEF = believe(CATALOGUE, [
  { observable: 'level', outcome: 'none', from: 'asked' },
  { observable: 'pressure', outcome: 'rising', from: 'asked' },
  { observable: 'current', outcome: 'none', from: 'asked' },
  { observable: 'trend', outcome: 'sudden', from: 'asked' },
]);

it('prints a self-contained guide: no script, no address, the gate before each touch, the stop rule', () => {
  const html = guideHtml({ title: 'Night <1>', lines: ['emitter-1'] }, explain(BELIEF), FAULTS);
  expect(html).toContain('Night &lt;1&gt;');
  expect(html).not.toMatch(/<script|https?:|src=|@import|url\(/);
  expect(html).toContain('Stop rule.');
  expect(html).toContain('pressure below 5 bar before any fitting is opened');
  expect(html.match(/<section>/g)!.length).toBeGreaterThanOrEqual(10);
});

it('prints ranked causes, why, the next test with its gate, and what to do', () => {
  const text = explanationText(explain(BELIEF), FAULTS);
  expect(text).toContain('Most likely: full clog');
  expect(text).toContain('something not in the catalogue');
  expect(text).toMatch(/Next: .*\?/);
  expect(text).toContain('What to do about full clog');
  expect(text).toContain('Sources: common practice, no source');
});

it('says that a regime is an inference unless current or microscope was used', () => {
  const blind = believe(CATALOGUE, [{ observable: 'scatter', outcome: 'larger', from: 'run-1' }]);
  expect(explain(blind).inference).toContain('inferences');
  expect(explain(BELIEF).inference).toBeUndefined();
});
