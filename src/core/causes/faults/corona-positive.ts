import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'corona-positive',
  name: 'corona, positive mode',
  family: 'voltage and electrics',
  prior: 2,
  signs: {
    'plan-voltage': { above: 6, inside: 4 },
    level: { lower: 7, usual: 3 },
    scatter: { larger: 7 },
    'odd-ions': { air: 9 },
    background: { stay: 5, together: 4 },
    current: { micro: 8, higher: 2 },
    'current-form': { noisy: 6, quiet: 4 },
    pressure: { usual: 9.5 },
    meniscus: { glow: 8, nothing: 2 },
    lower: { better: 9 },
    polarity: { both: 9 },
    raise: { worse: 9 },
    swap: { same: 6, cured: 4 },
  },
  lookAlikes: [
    { fault: 'arcing', separatedBy: 'current-form', words: 'corona is steady' },
    { fault: 'fill-control', separatedBy: 'odd-ions', words: 'fill control makes no oxidised ions' },
    { fault: 'corona-negative', separatedBy: 'polarity', words: 'negative polarity only' },
  ],
  actions: [
    { gate: 'knob', words: 'Voltage down.' },
    { gate: 'hands off power', words: 'Wet or round the tip, or a larger distance.' },
    { gate: 'none', words: 'A gas that holds more, by trained staff, ventilated.' },
  ],
  numbers:
    'The current jumps from hundreds of nanoamperes to microamperes; a dry tip glows first. Smell of ozone: stop.',
  sources: [
    'Anal. Chem. 2009, 81, 4027 (read (abstract)): oxidation by corona',
    'López-Herrera et al. 2004, J. Am. Soc. Mass Spectrom. 15, 253 (read (abstract)): water can spray without corona',
  ],
};
