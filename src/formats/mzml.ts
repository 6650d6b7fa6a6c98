/**
 * mzML 1.1, with or without its index: the elements of one document turned into MS1 rows. Every parameter is read where
 * it stands or through a referenceableParamGroup. The index, the checksum and the lengths of texts are ignored: they are wrong in
 * too many files. A count of spectra that does not fit is told.
 */
import { Base64Text } from './base64.ts';
import { arrayValues, copyValues, sumOf, textLimit, type Unpack } from './binary-array.ts';
import { type ArrayOptions, handOn, type OnMs1, ValueBuffer } from './ms1-spectrum.ts';
import {
  type ArrayState,
  arrayParam,
  type Chromatogram,
  cvParam,
  isHeeded,
  mayBeMs1,
  newChromatogram,
  newSpectrum,
  type Param,
  type Spectrum,
  spectrumParam,
  storedArray,
  TRACE_NAMES,
  userParam,
} from './mzml-params.ts';
import { endTrace, traceArray } from './mzml-traces.ts';
import { basePeakOf, injectionOf, secondsOf, ticOf } from './mzml-values.ts';
import { wholeNumber } from './numerals.ts';
import type { RunBuilder } from './run-builder.ts';
import { type Attributes, Break, type XmlSink } from './xml-sink.ts';

/** Most parameters in one group, so that references to a huge group cannot multiply the work. */
const LARGEST_GROUP = 1000;
/** Most parameters of all groups: a file of more is made to fill the memory. */
const MOST_GROUPED = 200_000;
const INVENTED = 'invented data';

export class MzmlSink implements XmlSink {
  readonly #run: RunBuilder;
  readonly #unpack: Unpack;
  readonly #onMs1: OnMs1 | undefined;
  readonly #text: Base64Text;
  readonly #mz = new ValueBuffer();
  readonly #intensity = new ValueBuffer();
  readonly #stack: string[] = [];
  readonly #groups = new Map<string, Param[]>();
  #group: Param[] | undefined;
  #grouped = 0;
  #defaultConfiguration = '';
  #spectrum: Spectrum | undefined;
  #chromatogram: Chromatogram | undefined;
  #array: ArrayState | undefined;
  #collecting = false;

  constructor(run: RunBuilder, { inflate, unzstd, decodeBase64, onMs1 }: ArrayOptions) {
    this.#text = new Base64Text(decodeBase64);
    this.#run = run;
    this.#unpack = { zlib: inflate, zstd: unzstd };
    this.#onMs1 = onMs1;
  }

  open(name: string, attributes: Attributes): void {
    const parent = this.#stack.at(-1) ?? '';
    this.#stack.push(name);
    switch (name) {
      case 'cvParam':
        this.#param(parent, cvParam(attributes));
        return;
      case 'userParam':
        this.#param(parent, userParam(attributes));
        return;
      case 'referenceableParamGroupRef':
        this.#expand(parent, attributes.ref ?? '');
        return;
      case 'referenceableParamGroup':
        this.#group = [];
        this.#countGrouped();
        this.#groups.set(attributes.id ?? '', this.#group);
        return;
      case 'run':
        this.#defaultConfiguration = attributes.defaultInstrumentConfigurationRef ?? '';
        return;
      case 'spectrumList':
        this.#run.announce(wholeNumber(attributes.count ?? ''));
        return;
      case 'spectrum':
        this.#run.begin('spectrum');
        this.#spectrum = newSpectrum(attributes, this.#defaultConfiguration);
        this.#mz.clear();
        this.#intensity.clear();
        return;
      case 'chromatogram':
        this.#run.begin('chromatogram');
        this.#chromatogram = newChromatogram(attributes);
        return;
      case 'scan':
        if (this.#spectrum && attributes.instrumentConfigurationRef)
          this.#spectrum.configuration = attributes.instrumentConfigurationRef;
        return;
      case 'binaryDataArray':
        this.#array = this.#newArray(attributes);
    }
  }

  close(name: string): void {
    this.#stack.pop();
    switch (name) {
      case 'referenceableParamGroup':
        this.#group = undefined;
        return;
      case 'binary':
        if (this.#array) this.#endArray(this.#array);
        this.#collecting = false;
        return;
      case 'binaryDataArray':
        this.#array = undefined;
        return;
      case 'spectrum':
        if (this.#spectrum) this.#endSpectrum(this.#spectrum);
        this.#spectrum = undefined;
        this.#run.tally.enter('');
        return;
      case 'chromatogram':
        if (this.#chromatogram) endTrace(this.#chromatogram, this.#run);
        this.#chromatogram = undefined;
        this.#run.tally.enter('');
    }
  }

  wantsArray(): boolean {
    const array = this.#array;
    if (!array) return false;
    if (this.#spectrum)
      this.#collecting =
        (array.kind === 'intensity' || (array.kind === 'mz' && this.#onMs1 !== undefined)) &&
        mayBeMs1(this.#spectrum);
    else if (this.#chromatogram)
      this.#collecting =
        array.kind === 'time' ||
        array.kind === 'trace' ||
        (array.kind === 'intensity' && this.#chromatogram.name !== '');
    else this.#collecting = false;
    if (this.#collecting) this.#text.start(textLimit(storedArray(array)));
    return this.#collecting;
  }

  arrayText(piece: Uint8Array): void {
    this.#text.append(piece);
  }

  heeds(name: string, attributes: Attributes): boolean {
    if (name === 'cvParam') return isHeeded(attributes.accession ?? '');
    return name !== 'userParam' || userParam(attributes).accession !== '';
  }

  skipsRest(): boolean {
    return this.#spectrum !== undefined && this.#spectrum.level > 1;
  }

  #expand(parent: string, id: string): void {
    if (this.skipsRest()) return;
    const group = this.#groups.get(id);
    if (group === undefined || group === this.#group) {
      this.#run.tally.add('group_missing');
      return;
    }
    for (const param of group) this.#param(parent, param);
  }

  #countGrouped(): void {
    this.#grouped += 1;
    if (this.#grouped > MOST_GROUPED) throw new Break('more than 200 000 parameters in groups');
  }

  #param(parent: string, param: Param): void {
    if (this.#group) {
      if (parent !== 'referenceableParamGroup') return;
      if (this.#group.length === LARGEST_GROUP) {
        this.#run.tally.add('group_long');
        return;
      }
      this.#countGrouped();
      this.#group.push(param);
      return;
    }
    if (this.#array) {
      if (parent === 'binaryDataArray') arrayParam(this.#array, param);
    } else if (this.#spectrum) {
      if (parent === 'spectrum' || parent === 'scan' || parent === 'scanWindow')
        spectrumParam(this.#spectrum, param);
    } else if (this.#chromatogram) {
      const trace = parent === 'chromatogram' ? TRACE_NAMES[param.accession] : undefined;
      if (trace !== undefined) this.#chromatogram.name = trace;
    } else if (param.user === INVENTED) this.#run.invented = true;
  }

  #newArray(attributes: Attributes): ArrayState {
    const own = wholeNumber(attributes.arrayLength ?? '');
    const whole = this.#spectrum?.declared ?? this.#chromatogram?.declared ?? Number.NaN;
    return {
      kind: 'other',
      trace: '',
      types: [],
      compressions: [],
      numpress: undefined,
      declared: Number.isNaN(own) ? whole : own,
      unit: '',
      unitName: '',
    };
  }

  #endArray(array: ArrayState): void {
    const spectrum = this.#spectrum;
    if (!spectrum) {
      if (this.#chromatogram && this.#collecting)
        traceArray(this.#chromatogram, array, this.#text, this.#unpack);
      return;
    }
    if (array.kind === 'mz') this.#mzArray(spectrum, array);
    if (array.kind !== 'intensity') return;
    spectrum.intensityArrays += 1;
    if (spectrum.intensityArrays > 1) return;
    if (!mayBeMs1(spectrum)) return;
    // An empty element <binary/> is never asked for.
    if (!this.#collecting) this.#text.start(0);
    const values = arrayValues(storedArray(array), this.#text, this.#unpack);
    if ('fault' in values) {
      spectrum.fault = values.fault;
      return;
    }
    const { sum, negative } = sumOf(values, 0, 1);
    spectrum.peak_count = values.count;
    spectrum.negative = negative;
    if (!Number.isFinite(sum)) {
      spectrum.fault = 'not_finite';
      return;
    }
    spectrum.sum = sum;
    if (this.#onMs1) copyValues(values, 0, 1, this.#intensity);
  }

  /** m/z values matter only to whoever follows the peaks; an array that cannot be read leaves the row as it is. */
  #mzArray(spectrum: Spectrum, array: ArrayState): void {
    if (!this.#onMs1 || !this.#collecting || !mayBeMs1(spectrum)) return;
    const values = arrayValues(storedArray(array), this.#text, this.#unpack);
    if (!('fault' in values)) copyValues(values, 0, 1, this.#mz);
  }

  #endSpectrum(spectrum: Spectrum): void {
    const { tally } = this.#run;
    const stated = Number.isNaN(spectrum.level) && spectrum.isMs1 ? 1 : spectrum.level;
    if (this.#run.spectrum(stated) !== 1) return;
    if (spectrum.intensityArrays === 0) {
      if (spectrum.declared === 0) spectrum.sum = 0;
      else tally.add('array_missing');
    } else if (spectrum.intensityArrays > 1) tally.add('array_second');
    if (spectrum.window_fault) tally.add('window_not_number');
    if (spectrum.fault) tally.add(spectrum.fault);
    if (spectrum.negative) tally.add('negative');
    const row = {
      time_s: secondsOf(spectrum.time, tally),
      tic_stated: ticOf(spectrum.tic, tally),
      tic_summed: spectrum.sum,
      base_peak: basePeakOf(spectrum.base_peak, tally),
      peak_count: spectrum.peak_count,
      injection_ms: injectionOf(spectrum.injection, tally),
      polarity: spectrum.polarity,
      window_low: spectrum.window_low,
      window_high: spectrum.window_high,
      analyser: this.#run.analyser(spectrum.filter, spectrum.configuration),
      profile: spectrum.profile,
    };
    const index = this.#run.ms1(row);
    if (this.#onMs1) handOn(row, index, this.#mz.held, this.#intensity.held, this.#onMs1, tally);
  }
}
