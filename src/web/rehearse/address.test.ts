import { expect, it } from 'vitest';
import { addressOf, hrefOf } from './address.ts';

it.each([
  { seed: 12, blind: true, fault: 'none', meter: 'usual' as const },
  { seed: 0, blind: false, fault: 'leakage', meter: 'wide' as const },
])('comes back from its own address: %j', (address) => {
  expect(addressOf(hrefOf(address).split('?')[1]!)).toEqual(address);
});

it('falls back where an address makes no sense', () => {
  expect(addressOf('seed=-1&fault=gremlin&meter=toString&how=other')).toEqual({
    seed: 7,
    blind: false,
    fault: 'none',
    meter: 'wide',
  });
});
