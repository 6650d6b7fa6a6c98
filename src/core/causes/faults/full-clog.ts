import type { Fault } from '../types.ts';

export const fault: Fault = {
  id: 'full-clog',
  name: 'full clog',
  family: 'liquid supply',
  prior: 3,
  signs: {
    level: { none: 9 },
    fill: { maximum: 9 },
    trend: { sudden: 8 },
    shape: { step: 8, none: 2 },
    background: { together: 9 },
    current: { none: 7, micro: 1 },
    pressure: { rising: 9 },
    meniscus: { nothing: 8, plug: 2 },
    'undo-emitter': { column: 9 },
    swap: { cured: 9.5 },
  },
  lookAlikes: [
    {
      fault: 'high-voltage-off',
      separatedBy: 'pressure',
      words: 'the pressure stays normal when only the voltage is off',
    },
    { fault: 'leak-before-column', separatedBy: 'pressure', words: 'a leak lets the pressure fall' },
    {
      fault: 'pump-not-delivering',
      separatedBy: 'pressure',
      words: 'the pressure decays when the pump does not deliver',
    },
  ],
  actions: [
    { gate: 'knob', words: 'Stop the flow, voltage off.' },
    { gate: 'pressure off', words: 'Pressure down, then disconnect in halves to find the place.' },
    { gate: 'pressure off', words: 'Replace; never push through above the rating: packed tips burst.' },
  ],
  numbers: 'Pressure climbs at flow times stiffness and reaches its limit within minutes.',
  sources: ['common practice, no source'],
};
