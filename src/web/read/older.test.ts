import { describe, expect, it } from 'vitest';
import { inventedReading } from '../../../test/kit/made-reading.ts';
import { readingOf } from './older.ts';

describe('a stored reading', () => {
  it('of an older version gets what it did not know as not known', () => {
    const { masked, lacks, stability, peaks_read, ...old } = inventedReading({ length_min: 2 });
    expect([masked, lacks, stability, peaks_read].every((part) => part !== undefined)).toBe(true);
    const groups = old.groups.map(({ rate: _, spray: __, limits: ___, ...group }) => group);
    const reading = readingOf({ ...old, groups })!;
    expect(reading.stability.grade).toBe('cannot tell');
    expect(reading.lacks[0]).toContain('read the run again');
    expect(reading.groups.map((group) => [group.rate, group.spray, group.limits])).toEqual([
      [null, null, null],
    ]);
    expect(reading.verdict).toEqual(old.verdict);
  });

  it('of this version stays as it is, and anything else is none', () => {
    const reading = inventedReading({ length_min: 2 });
    expect(readingOf(reading)).toEqual(reading);
    for (const other of [null, 3, [], {}, { groups: [] }]) expect(readingOf(other)).toBeUndefined();
  });
});
