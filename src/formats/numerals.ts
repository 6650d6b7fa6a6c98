/** Strict readers of numbers as XML files write them: what is not a plain decimal number is NaN, never a guess. */
const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const DURATION = /^(-?)P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+\.?\d*|\.\d+)S)?)?$/;
/** mzXML writers print small times as `PT1.2e-05S`, outside the standard but plain in meaning. */
const SECONDS = /^PT([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)S$/;

/** A decimal number with optional exponent; anything else (a decimal comma, NaN, INF, a unit) is NaN. */
export function decimal(text: string): number {
  const trimmed = text.trim();
  if (!DECIMAL.test(trimmed)) return Number.NaN;
  const value = Number(trimmed);
  return Number.isFinite(value) ? value : Number.NaN;
}

/** A whole number from 0 to 2^31, else NaN. */
export function wholeNumber(text: string): number {
  const trimmed = text.trim();
  if (!/^\d{1,10}$/.test(trimmed)) return Number.NaN;
  const value = Number(trimmed);
  return value <= 2 ** 31 ? value : Number.NaN;
}

/** Seconds of an ISO 8601 duration such as `PT434.072S` or `PT7M14.072S`; NaN for anything else. */
export function duration_s(text: string): number {
  const trimmed = text.trim();
  const seconds = SECONDS.exec(trimmed);
  if (seconds) return Number(seconds[1]);
  const parts = DURATION.exec(trimmed);
  if (!parts || trimmed.endsWith('P') || trimmed.endsWith('T')) return Number.NaN;
  const [days, hours, minutes, rest] = parts.slice(2).map((part) => Number(part ?? 0));
  const value = days! * 86_400 + hours! * 3600 + minutes! * 60 + rest!;
  return parts[1] === '-' ? -value : value;
}
