/** Numbers and keys as a person reads them: three significant figures, thin spaces, units from the key's own name. */
import type { Estimate } from '../core/estimate.ts';

const thin = '\u202f';

const units: [RegExp, string][] = [
  [/_mN_m$/, 'mN/m'],
  [/_nL_min$/, 'nL/min'],
  [/_kg_m3$/, 'kg/m³'],
  [/_mPa_s$/, 'mPa s'],
  [/_S_m$/, 'S/m'],
  [/_Mohm$/, 'MΩ'],
  [/_percent(_B)?$/, '%'],
  [/_kPa$/, 'kPa'],
  [/_mbar$/, 'mbar'],
  [/_bar$/, 'bar'],
  [/_deg$/, '°'],
  [/_min$/, 'min'],
  [/_um$/, 'µm'],
  [/_mm$/, 'mm'],
  [/_nm$/, 'nm'],
  [/_nA$/, 'nA'],
  [/_mM$/, 'mmol/L'],
  [/_ms$/, 'ms'],
  [/_C$/, '°C'],
  [/_V$/, 'V'],
  [/_s$/, 's'],
];

/** `onset_V` → unit 'V', name 'onset'. */
export function keyParts(key: string): { name: string; unit: string } {
  if (key === 'percent_B') return { name: 'share of B', unit: '%' };
  const hit = units.find(([pattern]) => pattern.test(key));
  const name = (hit ? key.replace(hit[0], '') : key).replaceAll('_', ' ').replace(/propanol 2/, '2-propanol');
  return { name, unit: hit?.[1] ?? '' };
}

export function figure(value: number | null | undefined, digits = 3): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return 'not known';
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size >= 1e7 || size < 1e-3) {
    const [mantissa, exponent] = value.toExponential(digits - 1).split('e');
    return `${mantissa}${thin}×${thin}10${superscript(Number(exponent))}`;
  }
  const rounded = Number(value.toPrecision(digits));
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  const [whole, part] = Math.abs(rounded).toFixed(decimals).split('.');
  const grouped = (whole ?? '').replace(/\B(?=(\d{3})+$)/g, thin);
  return `${rounded < 0 ? '−' : ''}${grouped}${part ? `.${part}` : ''}`;
}

/** A given value as it was given: at most `digits` figures, no trailing zeros. */
export function given(value: number, digits = 4): string {
  const text = figure(value, digits);
  return text.includes('.') && !text.includes('×') ? text.replace(/\.?0+$/, '') : text;
}

/** A whole number with thin thousands. */
export function count(value: number): string {
  return String(value).replace(/\B(?=(\d{3})+$)/g, thin);
}

export function withUnit(text: string, unit: string): string {
  return unit === '' ? text : `${text}${thin}${unit}`;
}

export function rangeText(estimate: Estimate, unit: string): string {
  return withUnit(`${figure(estimate.low)} to ${figure(estimate.high)}`, unit);
}

export function validityText(estimate: Estimate): string {
  const note = estimate.note ? `: ${estimate.note}` : '';
  return estimate.valid
    ? `inside the model's stated reach${note}`
    : `outside the model's stated reach, so its range is doubled${note}`;
}

export function minutes(seconds: number): string {
  return (seconds / 60).toFixed(2);
}

export function bytesText(bytes: number): string {
  if (bytes < 1e4) return `${bytes} bytes`;
  if (bytes < 1e6) return `${(bytes / 1e3).toFixed(0)} kB`;
  return `${(bytes / 1e6).toFixed(1)} MB`;
}

/** ISO time → local date and minute. */
export function whenText(iso: string): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return iso;
  const two = (n: number) => String(n).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())} ${two(date.getHours())}:${two(date.getMinutes())}`;
}

function superscript(n: number): string {
  const digits = '⁰¹²³⁴⁵⁶⁷⁸⁹';
  const body = [...String(Math.abs(n))].map((d) => digits[Number(d)]).join('');
  return n < 0 ? `⁻${body}` : body;
}
