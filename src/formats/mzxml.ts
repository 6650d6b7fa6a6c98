/**
 * mzXML 2 and 3: scans, possibly nested, whose peak list is one base64 text of big-endian m/z-intensity pairs. A scan
 * becomes a row as soon as a nested scan or its own end follows, so rows keep the order of the file. lowMz and highMz are
 * the observed range and say nothing of the declared window. Source: structure as found in real files, computed.
 */
import { Base64Text } from './base64.ts';
import { arrayValues, copyValues, type StoredArray, sumOf, textLimit, type Unpack } from './binary-array.ts';
import { type ArrayOptions, handOn, type OnMs1, ValueBuffer } from './ms1-spectrum.ts';
import { decimal, duration_s, wholeNumber } from './numerals.ts';
import type { RunBuilder } from './run-builder.ts';
import type { WarningKey } from './warning-tally.ts';
import type { Attributes, XmlSink } from './xml-sink.ts';

interface Scan {
  attributes: Attributes;
  level: number;
  declared: number;
  sum: number;
  peak_count: number;
  sawPeaks: boolean;
  fault: WarningKey | undefined;
  negative: boolean;
}

interface Peaks {
  array: StoredArray;
  /** Intensities are values first, first + stride, … */
  first: number;
  stride: number;
  foreignOrder: boolean;
}

const INVENTED = 'invented data';

export class MzxmlSink implements XmlSink {
  readonly #run: RunBuilder;
  readonly #unpack: Unpack;
  readonly #onMs1: OnMs1 | undefined;
  readonly #text: Base64Text;
  readonly #mz = new ValueBuffer();
  readonly #intensity = new ValueBuffer();
  #scan: Scan | undefined;
  #peaks: Peaks | undefined;
  #collecting = false;
  #centroided: string | undefined;

  constructor(run: RunBuilder, { inflate, decodeBase64, onMs1 }: ArrayOptions) {
    this.#text = new Base64Text(decodeBase64);
    this.#run = run;
    // mzXML knows no other packing than zlib.
    this.#unpack = { zlib: inflate, zstd: undefined };
    this.#onMs1 = onMs1;
  }

  open(name: string, attributes: Attributes): void {
    switch (name) {
      case 'msRun':
        this.#run.announce(wholeNumber(attributes.scanCount ?? ''));
        return;
      case 'scan':
        this.#endScan();
        this.#run.begin('spectrum');
        this.#scan = newScan(attributes);
        this.#mz.clear();
        this.#intensity.clear();
        return;
      case 'peaks':
        if (this.#scan) this.#peaks = peaksOf(attributes, this.#scan.declared);
        return;
      case 'dataProcessing':
        this.#centroided ??= attributes.centroided;
        return;
      case 'nameValue':
        if (attributes.name === INVENTED) this.#run.invented = true;
    }
  }

  close(name: string): void {
    if (name === 'scan') this.#endScan();
    if (name === 'peaks') {
      if (this.#scan && this.#peaks) this.#endPeaks(this.#scan, this.#peaks);
      this.#peaks = undefined;
      this.#collecting = false;
    }
  }

  wantsArray(): boolean {
    this.#collecting = this.#peaks !== undefined && this.#scan !== undefined && mayBeMs1(this.#scan);
    if (this.#peaks && this.#collecting) this.#text.start(textLimit(this.#peaks.array));
    return this.#collecting;
  }

  arrayText(piece: Uint8Array): void {
    this.#text.append(piece);
  }

  heeds(): boolean {
    return true;
  }

  skipsRest(): boolean {
    return false;
  }

  #endPeaks(scan: Scan, peaks: Peaks): void {
    if (scan.sawPeaks || !mayBeMs1(scan)) return;
    scan.sawPeaks = true;
    if (!this.#collecting) this.#text.start(0);
    if (peaks.foreignOrder) {
      scan.fault = 'byte_order';
      return;
    }
    const values = arrayValues(peaks.array, this.#text, this.#unpack);
    if ('fault' in values) {
      // Writers put one pair of zeros, or nothing at all, where a scan holds no peak.
      if (scan.declared === 0 && values.fault === 'unequal' && this.#text.length <= 24) scan.sum = 0;
      else scan.fault = values.fault;
      return;
    }
    const { sum, negative } = sumOf(values, peaks.first, peaks.stride);
    scan.peak_count = values.count / peaks.stride;
    scan.negative = negative;
    if (!Number.isFinite(sum)) {
      scan.fault = 'not_finite';
      return;
    }
    scan.sum = sum;
    if (this.#onMs1 && peaks.stride === 2) {
      copyValues(values, 0, 2, this.#mz);
      copyValues(values, 1, 2, this.#intensity);
    }
  }

  #endScan(): void {
    const scan = this.#scan;
    this.#scan = undefined;
    if (!scan || this.#run.spectrum(scan.level) !== 1) return;
    const { tally } = this.#run;
    if (!scan.sawPeaks) {
      if (scan.declared === 0) scan.sum = 0;
      else tally.add('array_missing');
    }
    if (scan.fault) tally.add(scan.fault);
    if (scan.negative) tally.add('negative');
    const { attributes } = scan;
    const centroided = attributes.centroided ?? this.#centroided;
    const row = {
      time_s: this.#time_s(attributes.retentionTime),
      tic_stated: this.#tic(attributes.totIonCurrent),
      tic_summed: scan.sum,
      base_peak: this.#number(attributes.basePeakIntensity, 'base_peak_not_number'),
      peak_count: scan.peak_count,
      injection_ms: this.#injection_ms(attributes.ionInjectionTime),
      polarity: attributes.polarity === '+' ? 1 : attributes.polarity === '-' ? -1 : 0,
      window_low: this.#number(attributes.startMz, 'window_not_number'),
      window_high: this.#number(attributes.endMz, 'window_not_number'),
      analyser: this.#run.analyser(attributes.filterLine ?? '', attributes.msInstrumentID ?? ''),
      profile: centroided === '0' || centroided === 'false' ? 1 : 0,
    };
    const index = this.#run.ms1(row);
    if (this.#onMs1) handOn(row, index, this.#mz.held, this.#intensity.held, this.#onMs1, tally);
  }

  #time_s(text: string | undefined): number {
    if (text === undefined || text === '') {
      this.#run.tally.add('time_missing');
      return Number.NaN;
    }
    const value = duration_s(text);
    if (!Number.isNaN(value)) return value;
    this.#run.tally.add(Number.isNaN(decimal(text)) ? 'time_not_number' : 'time_unit');
    return Number.NaN;
  }

  #tic(text: string | undefined): number {
    if (text === undefined) {
      this.#run.tally.add('tic_missing');
      return Number.NaN;
    }
    const value = decimal(text);
    if (Number.isNaN(value)) this.#run.tally.add('tic_not_number');
    return value;
  }

  /** NaN without a word where nothing is stated. */
  #number(text: string | undefined, fault: WarningKey): number {
    if (text === undefined || text === '') return Number.NaN;
    const value = decimal(text);
    if (Number.isNaN(value)) this.#run.tally.add(fault);
    return value;
  }

  /** A plain number is in milliseconds; some writers give a duration. */
  #injection_ms(text: string | undefined): number {
    if (text === undefined || text === '') {
      this.#run.tally.add('injection_missing');
      return Number.NaN;
    }
    const value = text.trim().startsWith('P') ? duration_s(text) * 1000 : decimal(text);
    if (Number.isNaN(value)) this.#run.tally.add('injection_not_number');
    return value;
  }
}

function newScan(attributes: Attributes): Scan {
  const declared = wholeNumber(attributes.peaksCount ?? '');
  return {
    attributes,
    level: wholeNumber(attributes.msLevel ?? ''),
    declared,
    sum: Number.NaN,
    peak_count: Number.isNaN(declared) ? 0 : declared,
    sawPeaks: false,
    fault: undefined,
    negative: false,
  };
}

/** undefined for a list that holds no intensities. */
function peaksOf(attributes: Attributes, declared: number): Peaks | undefined {
  const content = attributes.contentType ?? attributes.pairOrder ?? 'm/z-int';
  const stride = content === 'intensity' ? 1 : 2;
  if (content !== 'intensity' && content !== 'm/z-int') return undefined;
  const order = attributes.byteOrder ?? 'network';
  const precision = attributes.precision ?? '32';
  const compression = attributes.compressionType ?? 'none';
  return {
    array: {
      type: precision === '64' ? 'float64' : precision === '32' ? 'float32' : undefined,
      compression:
        compression === 'zlib' ? 'zlib' : compression === 'none' || compression === '' ? 'none' : undefined,
      declared: declared * stride,
      little_endian: false,
    },
    first: stride - 1,
    stride,
    foreignOrder: order !== 'network',
  };
}

function mayBeMs1(scan: Scan): boolean {
  return scan.level === 1 || Number.isNaN(scan.level);
}
