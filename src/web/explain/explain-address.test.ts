import { expect, it } from 'vitest';
import { explanationHref, searchOf, stateOf, withAnswer, withCannot, without } from './explain-address.ts';

it('comes back from its own address', () => {
  const state = {
    reading: 'reading-3',
    emitter: 'tip 7/8 ä',
    setup: 'setup-1',
    current: { regime: 'several jets', probability: 0.8, multipleOfExpected: 1.7 },
    answers: [
      { observable: 'level', outcome: 'lower' },
      { observable: 'current-form', outcome: 'pulses' },
    ],
    cannot: ['meniscus'],
  };
  expect(stateOf(searchOf(state))).toEqual(state);
  expect(searchOf({ answers: [], cannot: [] })).toBe('');
});

it('leads to the explanation of what is known', () => {
  expect(explanationHref()).toBe('/explain');
  const part = { reading: 'reading-3', emitter: 'tip 7/8 ä' };
  const [path, search] = explanationHref(part).split('?');
  expect(path).toBe('/explain');
  expect(stateOf(`?${search}`)).toMatchObject({ ...part, answers: [], cannot: [] });
});

it('leaves out what is no answer', () => {
  expect(stateOf('?saw=level,,=,.x,swap.cured&cannot=,,swap&regime=steady&sure=2')).toEqual({
    answers: [{ observable: 'swap', outcome: 'cured' }],
    cannot: [],
    reading: undefined,
    emitter: undefined,
    setup: undefined,
    current: undefined,
  });
});

it('keeps one answer for a question, or that it cannot be seen', () => {
  const start = stateOf('?saw=level.lower');
  const other = withAnswer(start, 'level', 'none');
  expect(other.answers).toEqual([{ observable: 'level', outcome: 'none' }]);
  const blind = withCannot(other, 'level');
  expect(blind).toMatchObject({ answers: [], cannot: ['level'] });
  expect(withAnswer(blind, 'level', 'usual').cannot).toEqual([]);
  expect(without(blind, 'level').cannot).toEqual([]);
});
