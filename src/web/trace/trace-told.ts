/** What a person tells about a trace, as typed: into the options of the reader and the context of the reading. */
import type { ResistorTold, TraceTold } from '../../evidence/current/index.ts';
import type { OpenQuestion, TraceOptions } from '../../formats/trace/index.ts';
import { typedNumber } from '../plan/draft.ts';

export interface Typed {
  column: string;
  unit: string;
  time_column: string;
  time_unit: string;
  voltage_column: string;
  voltage_unit: string;
  pressure_column: string;
  pressure_unit: string;
  rate: string;
  decimal: '' | 'comma' | 'point';
  delimiter: '' | 'comma' | 'semicolon' | 'tab' | 'space';
  full_scale: string;
  step: string;
  resistor: string;
  meter: string;
  bandwidth: string;
  capacitance: string;
  steady: string;
  flow_off: string;
}

export const NOTHING_TOLD: Typed = {
  column: '',
  unit: '',
  time_column: '',
  time_unit: '',
  voltage_column: '',
  voltage_unit: '',
  pressure_column: '',
  pressure_unit: '',
  rate: '',
  decimal: '',
  delimiter: '',
  full_scale: '',
  step: '',
  resistor: '',
  meter: '',
  bandwidth: '',
  capacitance: '',
  steady: '',
  flow_off: '',
};

const NUMBERS = {
  rate: 'Samples per second',
  full_scale: 'Current at full scale',
  step: 'Worth of one stored step',
  resistor: 'Resistor',
  meter: 'Own resistance of the meter',
  bandwidth: 'Bandwidth of the meter',
  capacitance: 'Capacitance',
  steady: 'Your own steady reading',
  flow_off: 'Voltage on, flow off',
} as const satisfies Partial<Record<keyof Typed, string>>;

/** What was typed where a number above zero belongs, and is none: never left out in silence. */
export function typedFaults(typed: Typed): string[] {
  const faults = (Object.keys(NUMBERS) as (keyof typeof NUMBERS)[]).flatMap((key) => {
    const value = typedNumber(typed[key]);
    return value === undefined || (typeof value === 'number' && value > 0)
      ? []
      : [`${NUMBERS[key]}: "${typed[key]}" is no number above 0.`];
  });
  if (typed.capacitance.trim() !== '' && typed.resistor.trim() === '')
    faults.push('Capacitance: it needs the resistor it lies across.');
  return faults;
}

export function toldFrom(typed: Typed): TraceTold & ResistorTold {
  return {
    bandwidth_Hz: number(typed.bandwidth),
    resistor_MOhm: number(typed.resistor),
    meter_MOhm: number(typed.meter),
    capacitance_pF: number(typed.capacitance),
    steady_nA: number(typed.steady),
    flow_off_nA: number(typed.flow_off),
  };
}

export function optionsFrom(typed: Typed): TraceOptions {
  return {
    column: typed.column || undefined,
    unit: typed.unit || undefined,
    time_column: typed.time_column || undefined,
    time_unit: typed.time_unit || undefined,
    voltage_column: typed.voltage_column || undefined,
    voltage_unit: typed.voltage_unit || undefined,
    pressure_column: typed.pressure_column || undefined,
    pressure_unit: typed.pressure_unit || undefined,
    rate_Hz: number(typed.rate),
    decimal: typed.decimal || undefined,
    delimiter: typed.delimiter || undefined,
    full_scale_nA: number(typed.full_scale),
    raw_step: number(typed.step),
    resistor_MOhm: number(typed.resistor),
  };
}

/** The same question asked twice is one field. */
export function questionKey(question: OpenQuestion): string {
  return 'quantity' in question ? `${question.quantity} ${question.about}` : question.about;
}

function number(text: string): number | undefined {
  const value = typedNumber(text);
  return typeof value === 'number' ? value : undefined;
}
