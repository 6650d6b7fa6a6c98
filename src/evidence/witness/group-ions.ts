/** The strongest ions over time of one group of scans; undefined where its peaks were not followed. */
import { streamOf } from './group-spray.ts';
import type { IonsOverTime } from './ion-passages.ts';
import { placesOf } from './places.ts';
import type { Witnesses } from './run-witnesses.ts';

/** `rows` are the rows of the record of the group's scans, in order. */
export function groupIons(witnesses: Witnesses, rows: readonly number[]): IonsOverTime | undefined {
  const ions = streamOf(witnesses, placesOf(rows), rows.length)?.ions;
  return ions && ions.passages.length > 0 ? ions : undefined;
}
