import { expect, it } from 'vitest';
import { settleHref, startQuery } from './settle-address.ts';

it('carries reading, cause and emitter through the address', () => {
  const href = settleHref({
    reading: 'reading-3',
    cause: 'offset-drift',
    probability: 0.6181,
    emitter: 'tip 7 & ä',
  });
  expect(href).toBe(
    '/settle?reading=reading-3&cause=offset-drift&probability=0.618&emitter=tip+7+%26+%C3%A4',
  );
  const query = new URLSearchParams(startQuery(href.slice('/settle'.length)));
  expect(Object.fromEntries(query)).toEqual({
    reading: 'reading-3',
    cause: 'offset-drift',
    probability: '0.618',
    emitter: 'tip 7 & ä',
  });
});

it('asks nothing for an address that names nothing', () => {
  expect(settleHref({})).toBe('/settle');
  expect(startQuery('')).toBeUndefined();
  expect(startQuery('?colour=blue&reading=%20')).toBeUndefined();
});
