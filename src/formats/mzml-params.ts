/**
 * The parameters of mzML and the states they fill: a spectrum, one of its arrays, a chromatogram. Source of the
 * accessions: HUPO-PSI, PSI-MS controlled vocabulary 4.1.257, 2026, read.
 */
import type { Compression, NumberType, StoredArray } from './binary-array.ts';
import { decimal, wholeNumber } from './numerals.ts';
import type { NumpressKind } from './numpress.ts';
import type { WarningKey } from './warning-tally.ts';
import type { Attributes } from './xml-sink.ts';

export interface Param {
  accession: string;
  /** A userParam's name; '' for a cvParam. */
  user: string;
  value: string;
  unit: string;
  unitName: string;
}

export interface ArrayState {
  kind: 'mz' | 'intensity' | 'time' | 'trace' | 'other';
  /** What a trace array holds by its own term; '' for the others. */
  trace: string;
  types: NumberType[];
  compressions: Compression[];
  numpress: NumpressKind | undefined;
  declared: number;
  unit: string;
  unitName: string;
}

export interface Spectrum {
  /** NaN until stated. */
  level: number;
  isMs1: boolean;
  declared: number;
  time: Param | undefined;
  tic: Param | undefined;
  injection: Param | undefined;
  base_peak: Param | undefined;
  filter: string;
  configuration: string;
  polarity: number;
  profile: number;
  window_low: number;
  window_high: number;
  /** Whether a limit of a scan window was no number. */
  window_fault: boolean;
  sum: number;
  peak_count: number;
  intensityArrays: number;
  /** Told only when the spectrum proves to be MS1. */
  fault: WarningKey | undefined;
  negative: boolean;
}

export interface Chromatogram {
  name: string;
  declared: number;
  time: Float64Array | undefined;
  value: Float64Array | undefined;
  unit: string;
}

export const SECONDS_PER: Record<string, number> = {
  'UO:0000010': 1,
  'UO:0000031': 60,
  'UO:0000028': 1e-3,
  'UO:0000032': 3600,
  // Terms of the vocabulary before it used the unit ontology.
  'MS:1000038': 60,
  'MS:1000039': 1,
};

export const NUMBER_TYPES: Record<string, NumberType> = {
  'MS:1000521': 'float32',
  'MS:1000523': 'float64',
  'MS:1000519': 'int32',
  'MS:1000522': 'int64',
};

export const COMPRESSIONS: Record<string, Compression> = {
  'MS:1000576': 'none',
  'MS:1000574': 'zlib',
  'MS:1003780': 'zstd',
  'MS:1003781': 'zstd shuffled',
  'MS:1003782': 'zstd dictionary',
};

/** Numbers as MS-Numpress, and what they are packed in besides. */
const NUMPRESS: Record<string, { kind: NumpressKind; inside?: Compression }> = {
  'MS:1002312': { kind: 'linear' },
  'MS:1002313': { kind: 'pic' },
  'MS:1002314': { kind: 'slof' },
  'MS:1002746': { kind: 'linear', inside: 'zlib' },
  'MS:1002747': { kind: 'pic', inside: 'zlib' },
  'MS:1002748': { kind: 'slof', inside: 'zlib' },
  'MS:1003783': { kind: 'linear', inside: 'zstd' },
  'MS:1003784': { kind: 'pic', inside: 'zstd' },
  'MS:1003785': { kind: 'slof', inside: 'zstd' },
};

export const TRACE_NAMES: Record<string, string> = { 'MS:1003019': 'pressure', 'MS:1003020': 'flow rate' };
/** The same by the term of the array: chromatograms written before the terms above have only these. */
const TRACE_ARRAYS: Record<string, string> = { 'MS:1000821': 'pressure', 'MS:1000820': 'flow rate' };

const TERM = /^MS:\d{7}$/;
const PERCENT_OF_BASE_PEAK = 'MS:1000132';

export function cvParam(attributes: Attributes): Param {
  return {
    accession: attributes.accession ?? '',
    user: '',
    value: attributes.value ?? '',
    unit: attributes.unitAccession ?? '',
    unitName: attributes.unitName ?? '',
  };
}

/** Some writers put vocabulary terms into userParams: with their accession, named by it, or by the term's own name. */
export function userParam(attributes: Attributes): Param {
  const name = attributes.name ?? '';
  let accession = '';
  if (TERM.test(attributes.accession ?? '')) accession = attributes.accession!;
  else if (TERM.test(name)) accession = name;
  else if (name === 'filter string') accession = 'MS:1000512';
  else if (name === 'ion injection time') accession = 'MS:1000927';
  return { ...cvParam(attributes), accession, user: name };
}

export function newSpectrum(attributes: Attributes, configuration: string): Spectrum {
  const declared = wholeNumber(attributes.defaultArrayLength ?? '');
  return {
    level: Number.NaN,
    isMs1: false,
    declared,
    time: undefined,
    tic: undefined,
    injection: undefined,
    base_peak: undefined,
    filter: '',
    configuration,
    polarity: 0,
    profile: 0,
    window_low: Number.NaN,
    window_high: Number.NaN,
    window_fault: false,
    sum: Number.NaN,
    peak_count: Number.isNaN(declared) ? 0 : declared,
    intensityArrays: 0,
    fault: undefined,
    negative: false,
  };
}

export function newChromatogram(attributes: Attributes): Chromatogram {
  return {
    name: '',
    declared: wholeNumber(attributes.defaultArrayLength ?? ''),
    time: undefined,
    value: undefined,
    unit: '',
  };
}

/** Terms that change a spectrum or one of its arrays. */
const HEEDED = new Set([
  ...Object.keys({ ...NUMBER_TYPES, ...COMPRESSIONS, ...NUMPRESS }),
  ...'1000511 1000579 1000285 1000505 1000130 1000129 1000128 1000127 1000016 1000927 1000512 1000501 1000500'
    .split(' ')
    .map((number) => `MS:${number}`),
  ...['MS:1000514', 'MS:1000515', 'MS:1000595', 'MS:1000821', 'MS:1000820'],
]);

export function isHeeded(accession: string): boolean {
  return HEEDED.has(accession);
}

export function spectrumParam(spectrum: Spectrum, param: Param): void {
  switch (param.accession) {
    case 'MS:1000511':
      if (Number.isNaN(spectrum.level)) spectrum.level = wholeNumber(param.value);
      return;
    case 'MS:1000579':
      spectrum.isMs1 = true;
      return;
    case 'MS:1000285':
      spectrum.tic ??= param;
      return;
    case 'MS:1000505':
      if (param.unit !== PERCENT_OF_BASE_PEAK) spectrum.base_peak = param;
      return;
    case 'MS:1000130':
      spectrum.polarity = 1;
      return;
    case 'MS:1000129':
      spectrum.polarity = -1;
      return;
    case 'MS:1000128':
      spectrum.profile = 1;
      return;
    case 'MS:1000127':
      spectrum.profile = 0;
      return;
    // Of several scans summed into one spectrum the first one stands for it.
    case 'MS:1000016':
      spectrum.time ??= param;
      return;
    case 'MS:1000927':
      spectrum.injection ??= param;
      return;
    case 'MS:1000512':
      if (spectrum.filter === '') spectrum.filter = param.value;
      return;
    case 'MS:1000501':
      spectrum.window_low = least(spectrum.window_low, windowLimit(spectrum, param));
      return;
    case 'MS:1000500':
      spectrum.window_high = -least(-spectrum.window_high, -windowLimit(spectrum, param));
  }
}

function windowLimit(spectrum: Spectrum, param: Param): number {
  const limit = decimal(param.value);
  if (Number.isNaN(limit)) spectrum.window_fault = true;
  return limit;
}

export function arrayParam(array: ArrayState, param: Param): void {
  const { accession } = param;
  const type = NUMBER_TYPES[accession];
  const compression = COMPRESSIONS[accession];
  const numpress = NUMPRESS[accession];
  if (type !== undefined) array.types.push(type);
  else if (compression !== undefined) array.compressions.push(compression);
  else if (numpress !== undefined) {
    array.numpress = numpress.kind;
    if (numpress.inside !== undefined) array.compressions.push(numpress.inside);
  } else if (accession === 'MS:1000514') array.kind = 'mz';
  else if (accession === 'MS:1000515') array.kind = 'intensity';
  else if (accession === 'MS:1000595') array.kind = 'time';
  else if (TRACE_ARRAYS[accession] !== undefined) {
    array.kind = 'trace';
    array.trace = TRACE_ARRAYS[accession];
  } else return;
  if (param.unit !== '' || param.unitName !== '') {
    array.unit = param.unit;
    array.unitName = param.unitName;
  }
}

/** MS-Numpress is read inside its packing, also where older files name the two side by side. */
export function storedArray(array: ArrayState): StoredArray {
  const { compressions, types, numpress } = array;
  const packed = compressions.find((compression) => compression !== 'none') ?? compressions[0];
  return {
    type: types[0],
    compression: packed ?? (numpress === undefined ? undefined : 'none'),
    ...(numpress === undefined ? {} : { numpress }),
    declared: array.declared,
    little_endian: true,
  };
}

/** Arrays come after the parameters; a spectrum without a level by then may still prove to be MS1. */
export function mayBeMs1(spectrum: Spectrum): boolean {
  return spectrum.level === 1 || Number.isNaN(spectrum.level);
}

function least(a: number, b: number): number {
  return Number.isNaN(a) ? b : Number.isNaN(b) ? a : Math.min(a, b);
}
