/** Any kept document as words: names without underscores, units apart, estimates with their range, long columns counted. */

import { isRecord } from '../address.ts';
import { isEstimate } from '../plan/plan-numbers.ts';
import { figure, keyParts, rangeText, validityText, withUnit } from '../words.ts';

/** Number columns longer than this are told by length and range. */
const LONG_COLUMN = 12;

export function DocumentView({ value, name = '' }: { value: unknown; name?: string }) {
  const { unit } = keyParts(name);
  if (isEstimate(value)) {
    return (
      <>
        {withUnit(figure(value.value), unit)} ({rangeText(value, unit)}){' '}
        <span className="soft">
          {value.basis}; {validityText(value)}
        </span>
      </>
    );
  }
  if (Array.isArray(value)) return <Column value={value} unit={unit} />;
  if (isRecord(value)) {
    return (
      <dl className="doc">
        {Object.entries(value).map(([key, inner]) => (
          <Pair key={key} name={key} value={inner} />
        ))}
      </dl>
    );
  }
  if (typeof value === 'number') return <>{withUnit(plain(value), unit)}</>;
  if (typeof value === 'boolean') return <>{value ? 'yes' : 'no'}</>;
  if (value === null || value === undefined) return <>not known</>;
  return <>{String(value)}</>;
}

function Pair({ name, value }: { name: string; value: unknown }) {
  return (
    <>
      <dt>{keyParts(name).name}</dt>
      <dd>
        <DocumentView value={value} name={name} />
      </dd>
    </>
  );
}

function Column({ value, unit }: { value: readonly unknown[]; unit: string }) {
  if (value.length === 0) return <>none</>;
  const numbers = value.filter((v): v is number => typeof v === 'number');
  if (numbers.length > 0 && value.every((v) => typeof v === 'number' || v === null)) {
    if (value.length <= LONG_COLUMN)
      return <>{withUnit(value.map((v) => plain(v as number | null)).join(', '), unit)}</>;
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const v of numbers) {
      if (v < low) low = v;
      if (v > high) high = v;
    }
    return (
      <>
        {value.length} values, {figure(low)} to {withUnit(figure(high), unit)}
      </>
    );
  }
  return (
    <ol>
      {value.map((inner, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a stored list never changes
        <li key={i}>
          <DocumentView value={inner} />
        </li>
      ))}
    </ol>
  );
}

/** Stored numbers as they were given, up to six figures. */
function plain(value: number | null): string {
  if (value === null) return 'not known';
  return Number.isInteger(value) && Math.abs(value) < 1e9
    ? String(value)
    : String(Number(value.toPrecision(6)));
}
