/** Empty, contradictory and nonsensical observations: each is answered with chances that add up, or refused in the house grammar. */
export interface Nonsense {
  name: string;
  request: unknown;
  /** Words of the refusal; absent where an answer is given. */
  refused?: RegExp;
}

const all = (outcome: string, ...ids: string[]) => ids.map((observable) => ({ observable, outcome }));

export const NONSENSE: readonly Nonsense[] = [
  { name: 'nothing at all', request: {} },
  { name: 'empty lists', request: { answers: [], cannot: [] } },
  { name: 'no document', request: null, refused: /missing/ },
  { name: 'a list in its place', request: [], refused: /invalid/ },
  { name: 'a text in its place', request: 'the spray is bad', refused: /invalid/ },
  {
    name: 'two answers to one question',
    request: { answers: [...all('lower', 'level'), ...all('none', 'level')] },
  },
  { name: 'the same answer ten times', request: { answers: Array(10).fill(all('lower', 'level')[0]) } },
  { name: 'answered and not to be seen', request: { answers: all('lower', 'level'), cannot: ['level'] } },
  {
    name: 'no spray and a steady cone',
    request: { answers: [...all('none', 'level'), ...all('cone', 'meniscus')] },
  },
  {
    name: 'a current of nothing that pulses',
    request: { answers: [...all('none', 'current'), ...all('pulses', 'current-form')] },
  },
  {
    name: 'the person against the trace',
    request: {
      answers: all('pulses', 'current-form'),
      current: { regime: 'steady', probability: 1 },
    },
  },
  {
    name: 'usual in everything',
    request: { answers: all('usual', 'level', 'scatter', 'current', 'pressure') },
  },
  {
    name: 'the tip cured by a swap and the same after it',
    request: { answers: [...all('cured', 'swap'), ...all('same', 'swap')] },
  },
  {
    name: 'a current a million times too large',
    request: { current: { regime: 'steady', probability: 1, multipleOfExpected: 1e6 } },
  },
  {
    name: 'no current, surely',
    request: { current: { regime: 'no spray', probability: 1, multipleOfExpected: 0 } },
  },
  { name: 'a regime nobody believes in', request: { current: { regime: 'steady', probability: 0 } } },
  {
    name: 'a question nobody asks',
    request: { answers: all('sweet', 'smell') },
    refused: /unknown question: smell/,
  },
  {
    name: 'an answer that is none',
    request: { answers: all('maybe', 'swap') },
    refused: /unknown answer to swap: maybe/,
  },
  { name: 'an empty answer', request: { answers: all('', 'swap') }, refused: /out of range/ },
  {
    name: 'a name of the language',
    request: { answers: all('constructor', '__proto__') },
    refused: /unknown question/,
  },
  {
    name: 'a chance above one',
    request: { current: { regime: 'steady', probability: 3 } },
    refused: /out of range/,
  },
  {
    name: 'a chance that is no number',
    request: { current: { regime: 'steady', probability: 'high' } },
    refused: /invalid/,
  },
  {
    name: 'a regime that is none',
    request: { current: { regime: 'toString', probability: 0.5 } },
    refused: /unknown regime/,
  },
  {
    name: 'a picture of nothing',
    request: { frames: { meniscus: 'dragon', probability: 0.5 } },
    refused: /unknown/,
  },
  {
    name: 'a reading that is gone',
    request: { reading_id: 'reading-999' },
    refused: /unknown bench item|missing bench/,
  },
  {
    name: 'a plan as a reading',
    request: { reading_id: '../../etc' },
    refused: /unknown bench item|missing bench/,
  },
  {
    name: 'an emitter nobody ran',
    request: { emitter: 'tip of the iceberg' },
    refused: /unknown queue|missing bench/,
  },
  { name: 'an empty set-up', request: { setup: {} }, refused: /missing/ },
];
