/** Units in headings of trace files: what each measures and its size in SI. Case matters: mA is not MA. */
import type { TraceQuantity } from './trace-record.ts';

export type ColumnQuantity = TraceQuantity | 'time';

const UNITS: Record<ColumnQuantity, Record<string, number>> = {
  current: { A: 1, mA: 1e-3, uA: 1e-6, nA: 1e-9, pA: 1e-12 },
  voltage: { V: 1, kV: 1e3, mV: 1e-3, uV: 1e-6 },
  pressure: { Pa: 1, hPa: 1e2, kPa: 1e3, MPa: 1e6, bar: 1e5, mbar: 1e2, psi: 6894.757 },
  time: { s: 1, sec: 1, ms: 1e-3, us: 1e-6, ns: 1e-9, min: 60, h: 3600 },
};

/** Words for units, in small letters. */
const WORDS: Record<string, string> = {
  amp: 'A',
  amps: 'A',
  ampere: 'A',
  amperes: 'A',
  volt: 'V',
  volts: 'V',
  second: 's',
  seconds: 's',
  secs: 's',
  msec: 'ms',
  milliseconds: 'ms',
  usec: 'us',
  mins: 'min',
  minutes: 'min',
  hours: 'h',
};

const NAMES: Record<ColumnQuantity, RegExp> = {
  time: /^(t|time|zeit|elapsed( time)?|time ?stamp|clock|date ?time)$/i,
  current: /^(i|curr(ent)?|spray current|strom|i ?spray)$/i,
  voltage: /^(v|u|volt(age)?|hv|supply|spannung|supply voltage|tip voltage|v ?(supply|tip))$/i,
  pressure: /^(p|pressure|druck)$/i,
};

export interface Heading {
  /** As written. */
  text: string;
  name: string;
  unit: string | undefined;
  /** By its unit, else by its name. */
  quantity: ColumnQuantity | undefined;
  /** By its name alone, where name and unit disagree: a current in mV is a voltage across a resistor. */
  named: ColumnQuantity | undefined;
}

/** SI size of a unit and what it measures. */
export function unitOf(text: string): { quantity: ColumnQuantity; scale: number; unit: string } | undefined {
  const written = text.trim().replace(/[µμ]/g, 'u');
  const unit = WORDS[written.toLowerCase()] ?? written;
  for (const quantity of Object.keys(UNITS) as ColumnQuantity[]) {
    const scale = UNITS[quantity][unit];
    if (scale !== undefined) return { quantity, scale, unit };
  }
  return undefined;
}

export function unitsOf(quantity: ColumnQuantity): string {
  return Object.keys(UNITS[quantity]).join(', ');
}

/** 'current (nA)', 'I [uA]', 'time_s', 'voltage kV', 'I/nA', 'current, nA', 'nA'. */
export function headingOf(cell: string): Heading {
  const text = cell
    .trim()
    .replace(/^"(.*)"$/, '$1')
    .trim();
  const found =
    /^(.*?)\s*[([{]\s*([^)\]}]+?)\s*[)\]}]\s*$/.exec(text) ?? /^(.*?)[\s_/,]+([^\s_/,]+)$/.exec(text);
  const split = found && unitOf(found[2]!) ? { name: found[1]!, unit: found[2]! } : undefined;
  // A bracket that holds no unit we know is still the unit the person meant: it is refused by name later.
  const odd = !split && found && /[([{]/.test(text) ? { name: found[1]!, unit: found[2]! } : undefined;
  // 'A', 'V', 's' alone name their quantity by the unit; a bare 'V' is a heading as often as a unit.
  const bare = !split && text !== 'V' ? unitOf(text) : undefined;
  const name = (split ?? odd)?.name ?? (bare ? '' : text);
  const unit = (split ?? odd)?.unit ?? (bare ? bare.unit : undefined);
  const plain = name.replace(/[_\s]+/g, ' ').trim();
  const named = (Object.keys(NAMES) as ColumnQuantity[]).find((quantity) => NAMES[quantity].test(plain));
  const quantity = unit === undefined ? named : unitOf(unit)?.quantity;
  return { text, name: plain, unit, quantity, named };
}
