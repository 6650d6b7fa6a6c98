/**
 * Random mzML by seed in which the odd variants mix: text encodings, prefixes, comments, CDATA, groups, number types, packings, units,
 * userParams, indexes and, from scan to scan, spoiled values. With each file goes what a reader must find: the rows, and how often
 * each fault occurs and where first. `among` names the only variants that may occur, for readers that know fewer.
 */
import { deflateSync } from 'node:zlib';
import { type RandomStream, randomStream } from '../../src/core/random.ts';
import { base64, type Packing, packed } from './made-runs.ts';
import { numpress } from './numpress.ts';
import { text, utf16 } from './odd-runs.ts';

export type Variant =
  | 'encoding'
  | 'prefix'
  | 'quotes'
  | 'CRLF'
  | 'comments'
  | 'entities'
  | 'CDATA'
  | 'groups'
  | 'integers'
  | 'numpress'
  | 'lines'
  | 'userParams'
  | 'index'
  | 'foreign'
  | 'empty'
  | 'spoiled';

export interface MixedScan {
  level: number;
  time_s: number;
  injection_ms: number;
  tic: number;
  polarity: number;
  profile: number;
  low: number;
  high: number;
  masses: number[];
  intensities: number[];
  /** False where a spoiled array leaves the sum empty, or the peaks unfollowed. */
  summed: boolean;
  followed: boolean;
}

export interface MixedRun {
  bytes: Uint8Array;
  scans: MixedScan[];
  /** Byte behind each spectrum's end tag. */
  ends: number[];
  /** By words of its warning: how many, and the number of the first spectrum. */
  faults: Map<string, { count: number; first: number }>;
  /** Variants that occur. */
  met: Set<Variant>;
}

const MOST_SCANS = 14;
const MOST_PEAKS = 24;
/** Whole intensities and masses in eighths are kept by every number type and packing used here but integers of m/z. */
const MOST_COUNTS = 2 ** 20;
const MASS_POINT = 8;

const FLOATS: readonly Packing[] = ['float32', 'float64'];
const TYPES: readonly Packing[] = ['float32', 'float64', 'int32', 'int64'];
const TERM: Record<Packing, readonly [string, string]> = {
  float64: ['MS:1000523', '64-bit float'],
  float32: ['MS:1000521', '32-bit float'],
  int32: ['MS:1000519', '32-bit integer'],
  int64: ['MS:1000522', '64-bit integer'],
};
const NUMPRESS_TERM = {
  linear: ['MS:1002312', 'MS-Numpress linear prediction compression', 'MS:1002746'],
  pic: ['MS:1002313', 'MS-Numpress positive integer compression', 'MS:1002747'],
} as const;
const MINUTE = ['UO:0000031', 'minute'] as const;
const SECOND = ['UO:0000010', 'second'] as const;
const MILLISECOND = ['UO:0000028', 'millisecond'] as const;

export function mixedRun(seed: number, among?: readonly Variant[]): MixedRun {
  return new Maker(seed, among).run();
}

class Maker {
  readonly #draw: RandomStream;
  readonly #among: ReadonlySet<Variant> | undefined;
  readonly #file = new Set<Variant>();
  readonly #met = new Set<Variant>();
  readonly #groups: string[] = [];
  readonly #faults: MixedRun['faults'] = new Map();
  #number = 0;
  #lastTime_s = Number.NaN;

  constructor(seed: number, among: readonly Variant[] | undefined) {
    this.#draw = randomStream(seed, 'mixed run');
    this.#among = among && new Set(among);
    for (const variant of ['encoding', 'prefix', 'quotes', 'CRLF', 'index', 'spoiled'] as const)
      if (this.#may(variant, 0.4)) this.#file.add(variant);
  }

  run(): MixedRun {
    const draw = this.#draw;
    const scans: MixedScan[] = [];
    const spectra: string[] = [];
    const count = 2 + draw.index(MOST_SCANS - 2);
    for (let i = 0; i < count; i += 1) {
      this.#number = i + 1;
      const scan = this.#scan(i);
      spectra.push(this.#spectrum(scan));
      scans.push(scan);
    }
    const blank = ['\n', '\n   ', ''][draw.index(3)]!;
    const between = () => blank + this.#aside() + blank;
    const head = `<mzML xmlns="http://psi.hupo.org/ms/mzml" version="1.1.0"><cvList count="2"><cv id="MS" fullName="MS" version="4.1.257" URI="psi-ms.obo"/><cv id="UO" fullName="UO" version="1" URI="uo.obo"/></cvList>
<fileDescription><fileContent>${this.#term('MS:1000579', 'MS1 spectrum')}</fileContent></fileDescription>
<referenceableParamGroupList count="${this.#groups.length}">${this.#groups.join(blank)}</referenceableParamGroupList>
<run id="r" defaultInstrumentConfigurationRef="IC1"><spectrumList count="${count}" defaultDataProcessingRef="DP">`;
    let document = `${head}${spectra.map((spectrum) => between() + spectrum).join('')}${between()}</spectrumList></run></mzML>`;
    if (this.#file.has('index')) document = this.#indexed(document);
    return this.#stored(document, scans);
  }

  #may(variant: Variant, chance: number): boolean {
    // Drawn in any case, so that the same seed gives the same run whatever is allowed.
    const drawn = this.#draw.unit() < chance;
    if (!drawn || (this.#among && !this.#among.has(variant))) return false;
    this.#met.add(variant);
    return true;
  }

  #scan(i: number): MixedScan {
    const draw = this.#draw;
    const peaks = this.#may('empty', 0.1) ? 0 : 1 + draw.index(MOST_PEAKS);
    const intensities = Array.from({ length: peaks }, () => draw.index(MOST_COUNTS));
    return {
      level: i === 0 || draw.unit() < 0.6 ? 1 : 2,
      time_s: 60 * (i + 1 + draw.index(60) / 64),
      injection_ms: 1 + draw.index(200) / 4,
      tic: 1 + draw.index(MOST_COUNTS),
      polarity: draw.unit() < 0.5 ? 1 : -1,
      profile: draw.index(2),
      low: 300 + draw.index(8),
      high: 1500 + draw.index(8),
      masses: Array.from({ length: peaks }, () => 350 + draw.index(9000) / MASS_POINT).sort((a, b) => a - b),
      intensities,
      summed: true,
      followed: true,
    };
  }

  /** A parameter, named as the vocabulary does; now and then with a character by number in its value. */
  #term(accession: string, name: string, value = '', unit?: readonly [string, string]): string {
    let shown = value;
    if (value !== '' && this.#may('entities', 0.03)) shown = `&#${value.charCodeAt(0)};${value.slice(1)}`;
    const unitPart =
      unit === undefined
        ? ''
        : ` unitCvRef="${unit[0].slice(0, 2)}" unitAccession="${unit[0]}" unitName="${unit[1]}"`;
    return `<cvParam cvRef="MS" accession="${accession}" name="${name}" value="${shown}"${unitPart}/>`;
  }

  /** Something between elements that means nothing. */
  #aside(): string {
    if (this.#may('comments', 0.06)) {
      return ['<!-- a <spectrum index="9"> & b -->', '<?p <binary> q?>', '<!---->'][this.#draw.index(3)]!;
    }
    return this.#may('foreign', 0.04) ? '<userParam name="x &lt; \u00e9" value=""/>' : '';
  }

  /** Parameters as they stand, or through a group. */
  #grouped(params: string): string {
    if (!this.#may('groups', 0.25)) return params;
    const id = `g${this.#groups.length}`;
    this.#groups.push(`<referenceableParamGroup id="${id}">${params}</referenceableParamGroup>`);
    return `<referenceableParamGroupRef ref="${id}"/>`;
  }

  #fault(words: string): void {
    const known = this.#faults.get(words);
    if (known) known.count += 1;
    else this.#faults.set(words, { count: 1, first: this.#number });
  }

  #spoils(): boolean {
    return this.#file.has('spoiled') && this.#draw.unit() < 0.08;
  }

  #spectrum(scan: MixedScan): string {
    const { level } = scan;
    const declared = scan.masses.length;
    const isMs1 = level === 1;
    const params = this.#shuffled([
      this.#grouped(this.#term('MS:1000511', 'ms level', String(level))),
      this.#grouped(
        scan.profile === 1
          ? this.#term('MS:1000128', 'profile spectrum')
          : this.#term('MS:1000127', 'centroid spectrum'),
      ),
      this.#grouped(
        scan.polarity > 0
          ? this.#term('MS:1000130', 'positive scan')
          : this.#term('MS:1000129', 'negative scan'),
      ),
      isMs1 ? this.#tic(scan) : this.#term('MS:1000285', 'total ion current', '1'),
      this.#aside(),
    ]).join('\n');
    const time = isMs1
      ? this.#time(scan)
      : this.#term('MS:1000016', 'scan start time', String(scan.time_s), SECOND);
    const limits = `${this.#term('MS:1000501', 'scan window lower limit', String(scan.low))}${this.#term('MS:1000500', 'scan window upper limit', String(scan.high))}`;
    const window = `<scanWindowList count="1"><scanWindow>${this.#grouped(limits)}</scanWindow></scanWindowList>`;
    const scanParams = this.#shuffled([time, this.#injection(scan), this.#aside()]).join('');
    // m/z of a spectrum whose intensities cannot be read are not looked at.
    const intensity = this.#intensity(scan);
    const arrays = this.#shuffled([this.#mz(scan), intensity]);
    const isBare = declared === 0 && this.#draw.unit() < 0.5;
    if (isBare) scan.followed = false;
    const list = isBare ? '' : `<binaryDataArrayList count="2">${arrays.join('\n')}</binaryDataArrayList>`;
    return `<spectrum index="${this.#number - 1}" id="scan=${this.#number}" defaultArrayLength="${declared}">${params}
<scanList count="1"><scan>${scanParams}${window}</scan></scanList>${list}</spectrum>`;
  }

  #tic(scan: MixedScan): string {
    if (this.#spoils()) {
      scan.tic = Number.NaN;
      if (this.#draw.unit() < 0.5) {
        this.#fault('without a stated TIC');
        return '';
      }
      this.#fault('with a stated TIC that is not a number');
      return this.#term('MS:1000285', 'total ion current', ['NaN', '1,5', 'INF', ''][this.#draw.index(4)]!);
    }
    return this.#grouped(this.#term('MS:1000285', 'total ion current', String(scan.tic)));
  }

  #time(scan: MixedScan): string {
    const name = 'scan start time';
    const minutes = this.#draw.unit() < 0.5;
    const value = minutes ? scan.time_s / 60 : scan.time_s;
    if (this.#spoils()) {
      const kind = this.#draw.index(4);
      if (kind === 3) {
        // Backward, or just the first time of the file.
        scan.time_s = 3;
        if (scan.time_s < this.#lastTime_s) this.#fault('with a scan start time before that of the MS1');
        else if (scan.time_s === this.#lastTime_s) this.#fault('with the same scan start time');
        this.#lastTime_s = scan.time_s;
        return this.#term('MS:1000016', name, '3', SECOND);
      }
      scan.time_s = Number.NaN;
      this.#fault(
        [
          'without a scan start time',
          'in no unit or an unknown one',
          'with a scan start time that is not a number',
        ][kind]!,
      );
      if (kind === 0) return '';
      if (kind === 1) return this.#term('MS:1000016', name, String(value));
      return this.#term(
        'MS:1000016',
        name,
        String(value).replace('.', ',') + (String(value).includes('.') ? '' : ',0'),
        MINUTE,
      );
    }
    this.#lastTime_s = scan.time_s;
    return this.#grouped(this.#term('MS:1000016', name, String(value), minutes ? MINUTE : SECOND));
  }

  #injection(scan: MixedScan): string {
    const value = String(scan.injection_ms);
    if (this.#may('userParams', 0.3)) {
      const name = ['name="MS:1000927"', 'name="ion injection time"', 'accession="MS:1000927" name="fill"'];
      return `<userParam ${name[this.#draw.index(3)]} value="${value}" unitCvRef="UO" unitAccession="UO:0000028" unitName="millisecond"/>`;
    }
    return this.#grouped(this.#term('MS:1000927', 'ion injection time', value, MILLISECOND));
  }

  #mz(scan: MixedScan): string {
    const unit = ['MS:1000040', 'm/z'] as const;
    const kind = this.#term('MS:1000514', 'm/z array', '', unit);
    const fault = scan.level === 1 && scan.masses.length > 1 && scan.summed && this.#spoils();
    if (fault && this.#draw.unit() < 0.5) {
      this.#fault('without a readable m/z array as long as the intensities');
      scan.followed = false;
      return this.#array(scan.masses.slice(1), kind, FLOATS, 'linear', MASS_POINT, scan.masses.length);
    }
    if (fault) {
      this.#fault('holding a value that is not a positive number');
      scan.masses[0] = -scan.masses[0]!;
      return this.#array(scan.masses, kind, FLOATS, undefined, 1, scan.masses.length);
    }
    return this.#array(scan.masses, kind, FLOATS, 'linear', MASS_POINT, scan.masses.length);
  }

  #intensity(scan: MixedScan): string {
    const kind = this.#term('MS:1000515', 'intensity array', '', ['MS:1000131', 'number of detector counts']);
    const types = this.#may('integers', 0.5) ? TYPES : FLOATS;
    if (scan.level === 1 && scan.intensities.length > 1 && this.#spoils()) {
      scan.summed = false;
      scan.followed = false;
      const kindOfFault = this.#draw.index(3);
      if (kindOfFault === 0) {
        this.#fault('of a length other than the declared one');
        return this.#array(scan.intensities.slice(1), kind, types, undefined, 1, scan.intensities.length);
      }
      if (kindOfFault === 1) {
        this.#fault('with damaged base64 text');
        return `<binaryDataArray encodedLength="8">${kind}${this.#term('MS:1000521', '32-bit float')}${this.#term('MS:1000576', 'no compression')}<binary>AAAA*AAA</binary></binaryDataArray>`;
      }
      this.#fault('holding a value that is not a number');
      scan.intensities[0] = Number.NaN;
      return this.#array(scan.intensities, kind, FLOATS, undefined, 1, scan.intensities.length);
    }
    return this.#array(scan.intensities, kind, types, 'pic', 1, scan.intensities.length);
  }

  #array(
    values: readonly number[],
    kind: string,
    types: readonly Packing[],
    press: 'linear' | 'pic' | undefined,
    point: number,
    declared: number,
  ): string {
    const draw = this.#draw;
    const type = types[draw.index(types.length)]!;
    const zlib = draw.unit() < 0.5;
    const pressed = press !== undefined && values.length > 2 && this.#may('numpress', 0.3);
    const bytes = pressed ? numpress(press, values, point) : packed(values, type);
    const params = [kind, this.#term(...TERM[type])];
    if (pressed) {
      const [alone, name, inZlib] = NUMPRESS_TERM[press];
      const sideBySide = zlib && draw.unit() < 0.5;
      params.push(this.#term(zlib && !sideBySide ? inZlib : alone, name));
      if (sideBySide) params.push(this.#term('MS:1000574', 'zlib compression'));
    } else
      params.push(
        zlib ? this.#term('MS:1000574', 'zlib compression') : this.#term('MS:1000576', 'no compression'),
      );
    const digits = base64(zlib ? deflateSync(bytes) : bytes);
    const own = draw.unit() < 0.2 ? ` arrayLength="${declared}"` : '';
    return `<binaryDataArray encodedLength="${digits.length}"${own}>${this.#grouped(this.#shuffled(params).join(''))}<binary>${this.#digits(digits)}</binary></binaryDataArray>`;
  }

  /** The text of an array, broken into lines, with a comment in it or as CDATA. */
  #digits(digits: string): string {
    const cut = this.#draw.index(digits.length + 1);
    if (this.#may('lines', 0.1)) return `\n  ${digits.slice(0, cut)}\r\n\t${digits.slice(cut)}\n`;
    if (this.#may('CDATA', 0.1)) return `${digits.slice(0, cut)}<![CDATA[${digits.slice(cut)}]]>`;
    return this.#may('comments', 0.03)
      ? `${digits.slice(0, cut)}<!-- <binary> -->${digits.slice(cut)}`
      : digits;
  }

  #indexed(document: string): string {
    const shift = [0, 137, 1e12][this.#draw.index(3)]!;
    const offsets = [...document.matchAll(/<spectrum /g)].map(
      (match, i) => `<offset idRef="scan=${i + 1}">${match.index + shift}</offset>`,
    );
    return `<indexedmzML xmlns="http://psi.hupo.org/ms/mzml">${document}<indexList count="1"><index name="spectrum">${offsets.join('\n')}</index></indexList><indexListOffset>${document.length + shift}</indexListOffset><fileChecksum>0</fileChecksum></indexedmzML>`;
  }

  #stored(plain: string, scans: MixedScan[]): MixedRun {
    const wide = this.#file.has('encoding');
    const form = wide ? this.#draw.index(4) : 4;
    const label = ['utf-8', 'ISO-8859-1', 'utf-16', 'utf-16', 'utf-8'][form]!;
    let document = plain;
    if (this.#file.has('prefix'))
      document = document.replaceAll(/<(\/?)(?=[a-zA-Z])/g, '<$1m:').replaceAll('xmlns=', 'xmlns:m=');
    if (this.#file.has('quotes')) document = document.replaceAll('"', "'");
    document = `<?xml version="1.0" encoding="${label}"?>\n${document}\n`;
    if (this.#file.has('CRLF')) document = document.replaceAll(/\r?\n/g, '\r\n');
    const marked = form === 0 || form === 2 || form === 3 ? `\ufeff${document}` : document;
    const store = (part: string) =>
      form === 1
        ? Buffer.from(part, 'latin1')
        : form === 2 || form === 3
          ? utf16(part, form === 2)
          : text(part);
    const ends = [...marked.matchAll(/<\/(m:)?spectrum>/g)].map(
      (match) => store(marked.slice(0, match.index + match[0].length)).length,
    );
    return { bytes: store(marked), scans, ends, faults: this.#faults, met: this.#met };
  }

  #shuffled<T>(items: T[]): T[] {
    for (let i = items.length - 1; i > 0; i -= 1) {
      const j = this.#draw.index(i + 1);
      [items[i], items[j]] = [items[j]!, items[i]!];
    }
    return items;
  }
}
