/**
 * Times of day and dates as loggers write them: '9:59:55.123', '09:59:55,123 PM', '2026-03-01T09:59:55Z', '01.03.2026 09:59:55', '1:05.25' (minutes and
 * seconds). Only a year that stands first is read as a date (the order of the others differs from country to country), so that elsewhere a
 * clock that falls back by more than half a day has passed midnight. Breaks where such a file has a gap of a day and more, or the clocks change.
 */

const DATE = /^(?:(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})|\d{1,2}[-/.]\d{1,2}[-/.](?:\d{4}|\d{2}))$/;
const CLOCK =
  /^(?:(\d{1,2}):)?([0-5]?\d):([0-5]\d)(?:[.,](\d{1,9}))?(?:\s*([AaPp])\.?[Mm]\.?)?(?:Z|[-+]\d\d:?\d\d)?$/;
const DAY_S = 86400;
const HALF_DAY_S = 43200;

/** Seconds of a time of day, and the days since 1970 where the date is told by its year first; undefined where the cell is no clock. */
export function clockSeconds(cell: string): { seconds: number; days: number | undefined } | undefined {
  const text = plain(cell);
  const parted = /^(\S+?)(?:T|\s+)(\S.*)$/.exec(text);
  const date = parted ? DATE.exec(parted[1]!) : undefined;
  if (parted && !date && !/^[AaPp]\.?[Mm]\.?$/.test(parted[2]!)) return undefined;
  const clock = CLOCK.exec(date ? parted![2]! : text);
  // '1:05' may be hours and minutes or minutes and seconds: it is no clock before it says which.
  if (!clock || (clock[1] === undefined && clock[4] === undefined)) return undefined;
  const [, hours = '0', minutes, seconds, part = '0', half] = clock;
  const hour = half === undefined ? Number(hours) : (Number(hours) % 12) + (/p/i.test(half) ? 12 : 0);
  const days =
    date?.[1] === undefined
      ? undefined
      : Math.round(Date.UTC(Number(date[1]), Number(date[2]) - 1, Number(date[3])) / (DAY_S * 1000));
  return {
    seconds: hour * 3600 + Number(minutes) * 60 + Number(`${seconds}.${part}`),
    days,
  };
}

/** A date without a time of day: a column that is passed over. */
export function isDate(cell: string): boolean {
  return DATE.test(plain(cell));
}

export interface ClockReader {
  /** Seconds since the first clock; NaN for an empty cell, undefined for one that is no clock. */
  at(cell: string): number | undefined;
  /** The first cell, as written. */
  first(): string;
}

export function clockReader(): ClockReader {
  let first = '';
  let origin = { seconds: 0, days: 0 };
  let last = Number.NaN;
  let midnights = 0;
  return {
    at(cell) {
      const text = plain(cell);
      if (text === '') return Number.NaN;
      const found = clockSeconds(text);
      if (found === undefined) return undefined;
      const { seconds } = found;
      if (last - seconds > HALF_DAY_S) midnights++;
      last = seconds;
      const days = found.days ?? midnights;
      if (first === '') {
        origin = { seconds, days };
        first = text;
      }
      // Days apart from seconds: together they would leave no digits for microseconds.
      return seconds - origin.seconds + (days - origin.days) * DAY_S;
    },
    first: () => first,
  };
}

function plain(cell: string): string {
  return cell.replace(/"/g, '').trim();
}
