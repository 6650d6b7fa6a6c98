/**
 * One invented run by seed, and the ways in which files in the wild differ from it: every variant with what a reader must
 * make of it. Nothing may pass silently: a variant either means the same as the plain run, or it is told, cut or refused.
 */
import { deflateSync, gzipSync } from 'node:zlib';
import { randomStream } from '../../src/core/random.ts';
import {
  base64,
  cv,
  MILLISECOND,
  MINUTE,
  type MzmlParts,
  mzml,
  mzmlSpectrum,
  mzxml,
  mzxmlScan,
  packed,
  type ScanParts,
  SECOND,
  type SpectrumParts,
} from './made-runs.ts';
import { numpress } from './numpress.ts';

export type Outcome =
  /** The same rows and warnings as the plain run; `lossy` is the relative error that the packing of the peaks may leave. */
  | { same: true; lossy?: number }
  /** The rows of the plain run but for the columns named, and one warning more, which ends with the place. */
  | { told: RegExp; rows?: number; empty?: EmptyColumn; place?: string }
  /** The first rows, and why reading stopped. */
  | { rows: number; broken: RegExp }
  | { refused: RegExp };

export type EmptyColumn =
  | 'time_s'
  | 'tic_summed'
  | 'tic_stated'
  | 'injection_ms'
  | 'window_low'
  | 'window_high';

export interface OddRun {
  name: string;
  bytes: Uint8Array;
  outcome: Outcome;
  /** Too much to hold in memory when unpacked. */
  bomb?: true;
}

export const SCANS = 24;
const MS2_AFTER = 2;
export const PEAKS = 40;
/** The one scan that is spoiled where only one is, and its place among all spectra. */
export const SPOILED = 7;
export const SPOILED_PLACE = ` (spectrum ${SPOILED * (1 + MS2_AFTER) + 1})`;

export type Change = (parts: Partial<SpectrumParts>, scan: number) => Partial<SpectrumParts>;

interface Scan {
  time_min: string;
  injection_ms: string;
  masses: number[];
  intensities: number[];
}

export function scansOf(seed: number): Scan[] {
  const draw = randomStream(seed, 'odd run');
  return Array.from({ length: SCANS }, (_, i) => ({
    time_min: (0.5 + i / 32).toString(),
    injection_ms: (1 + draw.index(50)).toString(),
    masses: Array.from({ length: PEAKS }, () => 350 + draw.index(10_000) / 8).sort((a, b) => a - b),
    // Whole numbers, so that every number type and lossless packing stores the same values.
    intensities: Array.from({ length: PEAKS }, () => 1 + draw.index(1000)),
  }));
}

function partsOf(scan: Scan): Partial<SpectrumParts> {
  const sum = scan.intensities.reduce((a, b) => a + b, 0);
  return {
    time: cv('MS:1000016', scan.time_min, MINUTE),
    params: cv('MS:1000130') + cv('MS:1000127') + cv('MS:1000285', String(sum)),
    scanParams: cv('MS:1000927', scan.injection_ms, MILLISECOND) + windowOf(),
    masses: scan.masses,
    intensities: scan.intensities,
  };
}

export function windowOf(): string {
  return `<scanWindowList count="1"><scanWindow>${cv('MS:1000501', '350')}${cv('MS:1000500', '1600')}</scanWindow></scanWindowList>`;
}

export function text(bytes: string): Uint8Array {
  return new TextEncoder().encode(bytes);
}

export function utf16(from: string, little: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * from.length));
  for (let i = 0; i < from.length; i += 1) view.setUint16(2 * i, from.charCodeAt(i), little);
  return new Uint8Array(view.buffer);
}

/** An index as converters write it, moved by some bytes; `wrap` puts it around the document. */
function indexed(document: string, shift: number, checksum = '0'): string {
  const start = document.indexOf('<mzML');
  const offsets = [...document.matchAll(/<spectrum /g)].map(
    (match) => `<offset idRef="scan=1">${match.index + shift}</offset>`,
  );
  return `${document.slice(0, start)}<indexedmzML xmlns="http://psi.hupo.org/ms/mzml">${document.slice(start)}<indexList count="1"><index name="spectrum">${offsets.join('')}</index></indexList><indexListOffset>${document.length + shift}</indexListOffset><fileChecksum>${checksum}</fileChecksum></indexedmzML>`;
}

export function plainRun(seed: number): Uint8Array {
  return text(written(seed));
}

export function written(
  seed: number,
  change: Change = (parts) => parts,
  file: Partial<MzmlParts> = {},
): string {
  const spectra: string[] = [];
  scansOf(seed).forEach((scan, i) => {
    spectra.push(mzmlSpectrum(change(partsOf(scan), i)));
    for (let k = 0; k < MS2_AFTER; k += 1)
      spectra.push(mzmlSpectrum({ level: cv('MS:1000511', '2'), intensities: [i + 1, k + 1] }));
  });
  return mzml(spectra, file);
}

export function oddRuns(seed: number): OddRun[] {
  const plain = written(seed);
  const all = (change: Change, file: Partial<MzmlParts> = {}) => written(seed, change, file);
  const one = (change: (parts: Partial<SpectrumParts>) => Partial<SpectrumParts>) =>
    written(seed, (parts, i) => (i === SPOILED ? { ...parts, ...change(parts) } : parts));
  const arrayText = base64(packed(scansOf(seed)[SPOILED]!.intensities, 'float32'));
  const ref = (id: string) => `<referenceableParamGroupRef ref="${id}"/>`;
  const group = (id: string, params: string) =>
    `<referenceableParamGroup id="${id}">${params}</referenceableParamGroup>`;
  const intensityParams = (accession: string) => cv('MS:1000515') + cv('MS:1000521') + cv(accession);
  const same: Outcome = { same: true };
  const told = (words: RegExp, empty?: EmptyColumn): Outcome =>
    empty === undefined ? { told: words } : { told: words, empty };
  const spectrumEnds = [...plain.matchAll(/<\/spectrum>/g)].map((match) => match.index + match[0].length);
  const variant = (name: string, file: string | Uint8Array, outcome: Outcome): OddRun => ({
    name,
    bytes: typeof file === 'string' ? text(file) : file,
    outcome,
  });
  const packedGz = gzipSync(text(plain));
  const middle = Math.floor(plain.length / 2);
  const spoiltGz = Uint8Array.from(packedGz);
  spoiltGz.fill(0xff, packedGz.length >> 1, (packedGz.length >> 1) + 64);

  return [
    // The same run, written otherwise.
    variant('bare, without an index', plain, same),
    variant('an index with right offsets and the checksum 0', indexed(plain, 0), same),
    variant('an index shifted by 137 bytes', indexed(plain, 137), same),
    variant('an index far beyond the end', indexed(plain, 1e12, 'x'.repeat(40)), same),
    variant(
      'a spectrum count that is no count',
      plain.replace(/<spectrumList count="\d+"/, '<spectrumList count="-3"'),
      same,
    ),
    variant('a byte order mark', `\ufeff${plain}`, same),
    variant('UTF-16, little end first', utf16(`\ufeff${plain.replace('utf-8', 'utf-16')}`, true), same),
    variant('UTF-16, big end first', utf16(`\ufeff${plain.replace('utf-8', 'utf-16')}`, false), same),
    variant('ISO-8859-1', plain.replace('utf-8', 'ISO-8859-1'), same),
    variant('CR LF', plain.replaceAll('\n', '\r\n'), same),
    variant('single quotes', plain.replaceAll('"', "'"), same),
    variant(
      'namespace prefixes',
      plain.replaceAll(/<(\/?)(?=[a-zA-Z])/g, '<$1m:').replace('xmlns=', 'xmlns:m='),
      same,
    ),
    variant(
      'attributes in another order',
      plain.replaceAll(
        /cvRef="MS" (accession="[^"]*") name="n" (value="[^"]*")/g,
        '$2 name="n" $1 cvRef="MS"',
      ),
      same,
    ),
    variant(
      'a spectrum in a comment',
      plain.replaceAll('<spectrum ', `<!-- ${mzmlSpectrum().replaceAll('--', '')} --><spectrum `),
      same,
    ),
    variant(
      'comments and processing instructions inside spectra',
      plain.replaceAll('<scanList', '<!-- a <binary> b --><?p <spectrum q?><scanList'),
      same,
    ),
    variant('arrays in CDATA', plain.replaceAll(/<binary>([^<]*)</g, '<binary><![CDATA[$1]]><'), same),
    variant(
      'predefined entities and characters by number',
      plain
        .replaceAll('id="scan=1"', 'id="a &amp; &#98; &lt;c&gt;"')
        .replaceAll('value="350"', 'value="&#51;50"'),
      same,
    ),
    variant(
      'arrays broken into lines',
      plain.replaceAll(/<binary>([^<]{40})/g, '<binary>\r\n    $1\n\t'),
      same,
    ),
    variant('elements of no standard', plain.replaceAll('<scanList', '<x y="1"><z/></x><scanList'), same),
    variant('foreign letters', plain.replaceAll('id="scan=1"', 'id="\u4e16\u754c \u00e9"'), same),
    variant('blanks around the equal sign', plain.replaceAll('value="', 'value = "'), same),
    // Parameters in other places.
    variant(
      'parameter groups everywhere',
      all(
        (parts, i) => ({
          ...parts,
          level: ref('level'),
          params: parts.params!.replace(cv('MS:1000130') + cv('MS:1000127'), ref('kind')),
          time: ref(`time${i}`),
          scanParams: parts.scanParams!.replace(
            /<scanWindow>.*<\/scanWindow>/,
            `<scanWindow>${ref('window')}</scanWindow>`,
          ),
          arrayParams: ref('intensity'),
          massParams: ref('mz'),
        }),
        {
          groups:
            group('level', cv('MS:1000511', '1')) +
            group('kind', cv('MS:1000130') + cv('MS:1000127')) +
            group('window', cv('MS:1000501', '350') + cv('MS:1000500', '1600')) +
            group('intensity', intensityParams('MS:1000576')) +
            group('mz', cv('MS:1000514') + cv('MS:1000523') + cv('MS:1000576')) +
            scansOf(seed)
              .map((scan, i) => group(`time${i}`, cv('MS:1000016', scan.time_min, MINUTE)))
              .join(''),
        },
      ),
      same,
    ),
    variant(
      'seconds in some scans, minutes in others',
      all((parts, i) => ({
        ...parts,
        time:
          i % 2 === 0
            ? cv('MS:1000016', String(60 * Number(scansOf(seed)[i]!.time_min)), SECOND)
            : parts.time!,
      })),
      same,
    ),
    variant(
      'injection times in userParams named by accession',
      plain.replaceAll(
        /<cvParam cvRef="MS" accession="MS:1000927" name="n"/g,
        '<userParam name="MS:1000927"',
      ),
      same,
    ),
    variant('no precursors, alien ids', plain.replaceAll('id="scan=1"', 'id="nothing"'), same),
    // Arrays packed otherwise.
    variant(
      'mixed number types from scan to scan',
      all((parts, i) => ({
        ...parts,
        type: (['float64', 'float32', 'int32', 'int64'] as const)[i % 4]!,
        massType: i % 2 === 0 ? 'float32' : 'float64',
        zlib: i % 3 === 0,
      })),
      same,
    ),
    ...(['pic', 'linear'] as const).flatMap((kind) =>
      [false, true].map((zlib) =>
        variant(
          `MS-Numpress ${kind}${zlib ? ' in zlib' : ''}`,
          all((parts) => {
            const bytes = numpress(kind, parts.intensities!, 1);
            const accession = { pic: ['MS:1002313', 'MS:1002747'], linear: ['MS:1002312', 'MS:1002746'] }[
              kind
            ];
            return {
              ...parts,
              text: base64(zlib ? deflateSync(bytes) : bytes),
              arrayParams: intensityParams(accession[zlib ? 1 : 0]!),
            };
          }),
          same,
        ),
      ),
    ),
    variant(
      'a third array: ion mobility',
      all((parts) => ({
        ...parts,
        moreArrays: `<binaryDataArray encodedLength="4">${cv('MS:1002816')}${cv('MS:1000521')}${cv('MS:1000576')}<binary>AAAA</binary></binaryDataArray>`,
      })),
      same,
    ),
    // Gzip.
    variant('gzip', packedGz, same),
    variant(
      'gzip of three members',
      Buffer.concat([
        gzipSync(text(plain).subarray(0, 1000)),
        gzipSync(text(plain).subarray(1000, middle)),
        gzipSync(text(plain).subarray(middle)),
      ]),
      same,
    ),
    variant('gzip with zeros behind it', Buffer.concat([packedGz, Buffer.alloc(700)]), same),
    variant('gzip cut within', packedGz.subarray(0, packedGz.length - 40), {
      rows: -1,
      broken: /^the file ends inside/,
    }),
    variant('gzip damaged within', spoiltGz, { rows: -1, broken: /./ }),
    // Values that no one may take silently.
    variant(
      'a time without a unit',
      one(() => ({ time: cv('MS:1000016', '0.7') })),
      told(/in no unit or an unknown one/, 'time_s'),
    ),
    variant(
      'a decimal comma',
      one(() => ({ time: cv('MS:1000016', '0,7', MINUTE) })),
      told(/time that is not a number/, 'time_s'),
    ),
    variant(
      'a time that is NaN',
      one(() => ({ time: cv('MS:1000016', 'NaN', MINUTE) })),
      told(/time that is not a number/, 'time_s'),
    ),
    variant(
      'no time',
      one(() => ({ time: '' })),
      told(/without a scan start time/, 'time_s'),
    ),
    variant(
      'a time running backward',
      one(() => ({ time: cv('MS:1000016', '0.51', MINUTE) })),
      told(/before that of the MS1 spectrum ahead/),
    ),
    variant(
      'a negative time',
      all((parts, i) => (i === 0 ? { ...parts, time: cv('MS:1000016', '-0.5', MINUTE) } : parts)),
      { told: /negative scan start time/, place: ' (spectrum 1)' },
    ),
    variant(
      'no level',
      one(() => ({ level: '' })),
      { told: /without a readable MS level/, rows: SCANS - 1 },
    ),
    variant(
      'a blank level',
      one(() => ({ level: cv('MS:1000511', '') })),
      { told: /without a readable MS level/, rows: SCANS - 1 },
    ),
    variant(
      'a TIC that is no number',
      one(() => ({ params: cv('MS:1000130') + cv('MS:1000127') + cv('MS:1000285', 'INF') })),
      told(/stated TIC that is not a number/, 'tic_stated'),
    ),
    variant(
      'no TIC',
      one(() => ({ params: cv('MS:1000130') + cv('MS:1000127') })),
      told(/without a stated TIC/, 'tic_stated'),
    ),
    variant(
      'an injection time in no known unit',
      one(() => ({ scanParams: cv('MS:1000927', '9', 'UO:0000169') + windowOf() })),
      told(/injection time that is not a number or in an unknown unit/, 'injection_ms'),
    ),
    variant(
      'a negative injection time',
      one(() => ({ scanParams: cv('MS:1000927', '-9', MILLISECOND) + windowOf() })),
      told(/negative injection time/, 'injection_ms'),
    ),
    variant(
      'fewer intensities than declared',
      one((parts) => ({ text: base64(packed(parts.intensities!.slice(1), 'float32')), declared: PEAKS })),
      told(/length other than the declared/, 'tic_summed'),
    ),
    variant(
      'more m/z than intensities',
      one((parts) => ({ massText: base64(packed([...parts.masses!, 1700], 'float64')) })),
      told(/without a readable m\/z array/),
    ),
    variant(
      'm/z in another type than named',
      one((parts) => ({ massText: base64(packed(parts.masses!, 'float32')) })),
      told(/without a readable m\/z array/),
    ),
    variant(
      'negative m/z',
      one((parts) => ({ masses: parts.masses!.map((mz) => -mz).reverse() })),
      told(/holding a value that is not a positive number/),
    ),
    variant(
      'an m/z that is NaN',
      one((parts) => ({ masses: parts.masses!.map((mz, i) => (i === 3 ? Number.NaN : mz)) })),
      told(/holding a value that is not a positive number/),
    ),
    variant(
      'an intensity that is NaN',
      one((parts) => ({ intensities: parts.intensities!.map((value, i) => (i === 3 ? Number.NaN : value)) })),
      told(/holding a value that is not a number/, 'tic_summed'),
    ),
    variant(
      'an infinite intensity',
      one((parts) => ({
        intensities: parts.intensities!.map((value, i) => (i === 3 ? Number.POSITIVE_INFINITY : value)),
      })),
      told(/holding a value that is not a number/, 'tic_summed'),
    ),
    variant(
      'base64 with foreign characters',
      one(() => ({ text: `${arrayText.slice(0, 8)}!*${arrayText.slice(10)}` })),
      told(/damaged base64/, 'tic_summed'),
    ),
    variant(
      'base64 of another alphabet',
      one(() => ({ text: `${arrayText.slice(0, 8)}-_${arrayText.slice(10)}` })),
      told(/damaged base64/, 'tic_summed'),
    ),
    variant(
      'base64 of an odd length',
      one(() => ({
        text: arrayText.slice(0, arrayText.length - (arrayText.length % 4 === 0 ? 3 : 1)).replaceAll('=', ''),
      })),
      told(/damaged base64|length other than/, 'tic_summed'),
    ),
    variant(
      'damaged zlib',
      one(() => ({ zlib: true, text: base64(deflateSync(packed([1, 2], 'float32')).fill(7, 3)) })),
      told(/zlib data damaged/, 'tic_summed'),
    ),
    variant(
      'cut zlib',
      one((parts) => ({
        zlib: true,
        text: base64(deflateSync(packed(parts.intensities!, 'float32')).subarray(0, 30)),
      })),
      told(/zlib data damaged/, 'tic_summed'),
    ),
    variant(
      'a zlib bomb of 256 MB',
      one(() => ({ zlib: true, text: bomb() })),
      told(/longer than declared|length other than/, 'tic_summed'),
    ),
    variant(
      'no compression named',
      one(() => ({ arrayParams: cv('MS:1000515') + cv('MS:1000521') })),
      told(/without a known number type or compression/, 'tic_summed'),
    ),
    variant(
      'no intensity array',
      one(() => ({ arrayParams: cv('MS:1000517') + cv('MS:1000521') + cv('MS:1000576') })),
      told(/without an intensity array/, 'tic_summed'),
    ),
    variant(
      'negative intensities',
      one((parts) => ({ intensities: parts.intensities!.map((value) => -value) })),
      told(/holding negative intensities/),
    ),
    variant(
      'a lost parameter group',
      one((parts) => ({ params: `${parts.params}${ref('nowhere')}` })),
      told(/to a parameter group that the file does not hold/),
    ),
    variant('bytes behind the end', `${plain}\n\0\0\0\0`, {
      told: /4 bytes after the end of the document/,
      place: '',
    }),
    variant(
      'a TIC of zero beside peaks',
      one(() => ({ params: cv('MS:1000130') + cv('MS:1000127') + cv('MS:1000285', '0') })),
      told(/stated TIC of zero though it holds peaks/),
    ),
    // Cut and broken.
    variant('cut in the head', plain.slice(0, plain.indexOf('<run')), {
      rows: 0,
      broken: /^the file ends inside/,
    }),
    variant('cut in a tag', plain.slice(0, spectrumEnds[30]! + 20), {
      rows: 11,
      broken: /^the file ends inside/,
    }),
    variant('cut in an array', plain.slice(0, plain.lastIndexOf('<binary>', spectrumEnds[30]!) + 9), {
      rows: 10,
      broken: /^the file ends inside/,
    }),
    variant('cut between spectra', plain.slice(0, spectrumEnds[30]!), {
      rows: 11,
      broken: /^the file ends inside <spectrumList>$/,
    }),
    variant('cut behind the list', plain.slice(0, plain.indexOf('</spectrumList>') + 15), {
      rows: SCANS,
      broken: /^the file ends inside <run>$/,
    }),
    variant('a zero byte in a tag', spoiled(plain, spectrumEnds[30]! + 12, '\0'), { rows: 11, broken: /./ }),
    variant('an unknown entity', spoiled(plain, plain.indexOf('name="n"', spectrumEnds[30]!) + 6, '&boom;'), {
      rows: 11,
      broken: /entity/,
    }),
    variant(
      'a wrong end tag',
      spoiled(plain, plain.indexOf('</scanList>', spectrumEnds[30]!), '</scanLast>'),
      { rows: 11, broken: /unexpected close tag/ },
    ),
    // No run file at all.
    variant(
      'an entity that expands',
      `<?xml version="1.0"?><!DOCTYPE mzML [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>${plain.slice(plain.indexOf('<mzML'))}`,
      { refused: /a document type declaration/ },
    ),
    variant(
      'an external entity',
      `<?xml version="1.0"?><!DOCTYPE mzML SYSTEM "file:///etc/passwd">${plain.slice(plain.indexOf('<mzML'))}`,
      { refused: /a document type declaration/ },
    ),
    variant('an empty file', '', { refused: /an empty file/ }),
    variant('an HTML page', '<!DOCTYPE html><html><body>Not found</body></html>', {
      refused: /an HTML page/,
    }),
    variant('a bzip2 file', 'BZh91AY&SY', { refused: /a bzip2-compressed file/ }),
    variant('older XML of the trade', '<?xml version="1.0"?><mzData version="1.05"/>', {
      refused: /an XML document of <mzData>/,
    }),
  ];
}

const SAME: Outcome = { same: true };

export type ScanChange = (parts: Partial<ScanParts>, scan: number) => Partial<ScanParts>;

export function writtenMzxml(seed: number, change: ScanChange = (parts) => parts, isNested = false): string {
  const scans = scansOf(seed).map((scan, i) => {
    const sum = scan.intensities.reduce((a, b) => a + b, 0);
    const ms2 = Array.from({ length: MS2_AFTER }, (_, k) =>
      mzxmlScan({ attributes: 'msLevel="2" retentionTime="PT1S"', pairs: [[i + 1, k + 1]] }),
    ).join('');
    const whole = mzxmlScan({
      ...change(
        {
          attributes: `msLevel="1" retentionTime="PT${60 * Number(scan.time_min)}S" totIonCurrent="${sum}" polarity="+" ionInjectionTime="${scan.injection_ms}" startMz="350" endMz="1600"`,
          pairs: scan.masses.map((mz, k) => [mz, scan.intensities[k]!] as const),
        },
        i,
      ),
      nested: isNested ? ms2 : '',
    });
    return isNested ? whole : whole + ms2;
  });
  return mzxml(scans);
}

export function plainMzxml(seed: number): Uint8Array {
  return text(writtenMzxml(seed));
}

export function oddMzxml(seed: number): OddRun[] {
  const plain = writtenMzxml(seed);
  const one = (change: (parts: Partial<ScanParts>) => Partial<ScanParts>) =>
    writtenMzxml(seed, (parts, i) => (i === SPOILED ? { ...parts, ...change(parts) } : parts));
  const attribute = (pattern: RegExp, by: string) =>
    one((parts) => ({ attributes: parts.attributes!.replace(pattern, by) }));
  const variant = (name: string, file: string | Uint8Array, outcome: Outcome): OddRun => ({
    name: `mzXML, ${name}`,
    bytes: typeof file === 'string' ? text(file) : file,
    outcome,
  });
  const withPairs = (value: number) =>
    one((parts) => ({ pairs: parts.pairs!.map(([mz, level], k) => [mz, k === 3 ? value : level] as const) }));
  return [
    variant('scans nested in their MS1', writtenMzxml(seed, undefined, true), SAME),
    variant(
      '64 bits and zlib by turns',
      writtenMzxml(seed, (parts, i) => ({ ...parts, precision: i % 2 ? 64 : 32, zlib: i % 3 === 0 })),
      SAME,
    ),
    variant(
      'times with hours and minutes',
      plain.replaceAll(/retentionTime="PT([0-9.]+)S"/g, 'retentionTime="P0DT0H0M$1S"'),
      SAME,
    ),
    variant('CR LF', plain.replaceAll('\n', '\r\n'), SAME),
    variant('a byte order mark', `\ufeff${plain.replace('ISO-8859-1', 'utf-8')}`, SAME),
    variant('UTF-16', utf16(`\ufeff${plain.replace('ISO-8859-1', 'utf-16')}`, true), SAME),
    variant('single quotes', plain.replaceAll('"', "'"), SAME),
    variant(
      'namespace prefixes',
      plain.replaceAll(/<(\/?)(?=[a-zA-Z])/g, '<$1m:').replace('xmlns=', 'xmlns:m='),
      SAME,
    ),
    variant('peaks in CDATA', plain.replaceAll(/(<peaks[^>]*>)([^<]*)</g, '$1<![CDATA[$2]]><'), SAME),
    variant('a scan in a comment', plain.replace('<scan ', `<!-- ${mzxmlScan()} --><scan `), SAME),
    variant(
      'an index that is nonsense',
      plain.replace(
        '</mzXML>',
        '<index name="scan"><offset id="1">999999999</offset></index><indexOffset>-4</indexOffset><sha1>0</sha1></mzXML>',
      ),
      SAME,
    ),
    variant(
      'gzip of two members',
      Buffer.concat([gzipSync(text(plain).subarray(0, 999)), gzipSync(text(plain).subarray(999))]),
      SAME,
    ),
    variant('no level', attribute(/msLevel="1"/, ''), {
      told: /without a readable MS level/,
      rows: SCANS - 1,
    }),
    variant('no time', attribute(/retentionTime="[^"]*"/, ''), {
      told: /without a scan start time/,
      empty: 'time_s',
    }),
    variant('a time without a unit', attribute(/retentionTime="PT([0-9.]+)S"/, 'retentionTime="$1"'), {
      told: /in no unit or an unknown one/,
      empty: 'time_s',
    }),
    variant('a decimal comma', attribute(/retentionTime="[^"]*"/, 'retentionTime="PT40,5S"'), {
      told: /time that is not a number/,
      empty: 'time_s',
    }),
    variant('a time running backward', attribute(/retentionTime="[^"]*"/, 'retentionTime="PT30.5S"'), {
      told: /before that of the MS1 spectrum ahead/,
    }),
    variant('no TIC', attribute(/totIonCurrent="[^"]*"/, ''), {
      told: /without a stated TIC/,
      empty: 'tic_stated',
    }),
    variant('a negative injection time', attribute(/ionInjectionTime="[^"]*"/, 'ionInjectionTime="-3"'), {
      told: /negative injection time/,
      empty: 'injection_ms',
    }),
    variant('fewer peaks than declared', withCount(plain, PEAKS + 1), {
      told: /length other than the declared/,
      empty: 'tic_summed',
    }),
    variant(
      'a foreign byte order',
      one(() => ({ peaksAttributes: 'byteOrder="little" contentType="m/z-int"' })),
      { told: /byte order other than network/, empty: 'tic_summed' },
    ),
    variant('an intensity that is NaN', withPairs(Number.NaN), {
      told: /holding a value that is not a number/,
      empty: 'tic_summed',
    }),
    variant(
      'negative m/z',
      one((parts) => ({ pairs: parts.pairs!.map(([mz, level]) => [-mz, level] as const) })),
      { told: /holding a value that is not a positive number/ },
    ),
    variant(
      'a compression of no standard',
      one(() => ({ peaksAttributes: 'byteOrder="network" compressionType="lzma"' })),
      { told: /without a known number type or compression/, empty: 'tic_summed' },
    ),
    variant('cut in a tag', plain.slice(0, plain.indexOf('<scan', plain.length >> 1) + 9), {
      rows: -1,
      broken: /^the file ends inside/,
    }),
    variant('cut between scans', plain.slice(0, plain.lastIndexOf('</scan>') + 7), {
      rows: SCANS,
      broken: /^the file ends inside <msRun>$/,
    }),
    variant('a wrong end tag', plain.replace('</scan></msRun>', '</scam></msRun>'), {
      rows: SCANS,
      broken: /unexpected close tag/,
    }),
    variant('a broken header', plain.replace(/<msRun scanCount="(\d+)">/, '<msRun scanCount="$1>'), {
      rows: 0,
      broken: /./,
    }),
    variant('a document type', plain.replace('<mzXML', '<!DOCTYPE mzXML [<!ENTITY a "b">]><mzXML'), {
      refused: /a document type declaration/,
    }),
  ];
}

/** Another number of peaks declared than stored, in the spoiled scan. */
export function withCount(file: string, count: number): string {
  const stored = `peaksCount="${PEAKS}"`;
  let at = -1;
  for (let scan = 0; scan <= SPOILED; scan += 1) at = file.indexOf(stored, at + 1);
  return `${file.slice(0, at)}peaksCount="${count}"${file.slice(at + stored.length)}`;
}

function spoiled(file: string, at: number, put: string): string {
  return file.slice(0, at) + put + file.slice(at + put.length);
}

let bombText: string | undefined;

/** 256 MB of zeros in a quarter of a megabyte; made once. */
function bomb(): string {
  bombText ??= base64(deflateSync(new Uint8Array(256e6)));
  return bombText;
}
