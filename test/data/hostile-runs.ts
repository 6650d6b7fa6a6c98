/**
 * More ways in which files in the wild differ from the one invented run of odd-runs.ts: packings, gzip, parameters in far places,
 * bombs and values that most readers take silently.
 */
import { deflateSync, gzipSync } from 'node:zlib';
import { base64, cv, MILLISECOND, MINUTE, packed, type ScanParts, type SpectrumParts } from './made-runs.ts';
import { numpress } from './numpress.ts';
import {
  type EmptyColumn,
  type OddRun,
  type Outcome,
  PEAKS,
  plainRun,
  SCANS,
  SPOILED,
  scansOf,
  text,
  windowOf,
  withCount,
  written,
  writtenMzxml,
} from './odd-runs.ts';
import { shuffled, zstdFrame } from './zstd.ts';

const SAME: Outcome = { same: true };
const MS1_PARAMS = cv('MS:1000130') + cv('MS:1000127');
/** Masses are multiples of 1/8, so a fixed point of 8 keeps them exactly. */
const MASS_POINT = 8;
/** Two bytes for logarithms up to that of 1000: a part in 9000, and rounding. */
const SLOF_POINT = 9000;
const SLOF_ERROR = 1e-4;

type Change = (parts: Partial<SpectrumParts>, scan: number) => Partial<SpectrumParts>;

export function hostileRuns(seed: number, zstdHere: boolean): OddRun[] {
  return [
    ...otherPackings(seed, zstdHere),
    ...otherPlaces(seed),
    ...otherGzip(seed),
    ...spoiledValues(seed),
    ...bombs(seed),
  ];
}

function variant(name: string, file: string | Uint8Array, outcome: Outcome): OddRun {
  return { name, bytes: typeof file === 'string' ? text(file) : file, outcome };
}

function makers(seed: number) {
  const all = (change: Change, parts = {}) => written(seed, change, parts);
  const one = (change: Change) =>
    all((parts, i) => (i === SPOILED ? { ...parts, ...change(parts, i) } : parts));
  const told = (words: RegExp, empty?: EmptyColumn, place?: string): Outcome => ({
    told: words,
    ...(empty === undefined ? {} : { empty }),
    ...(place === undefined ? {} : { place }),
  });
  return { all, one, told };
}

function intensityParams(...accessions: string[]): string {
  return ['MS:1000515', 'MS:1000521', ...accessions].map((accession) => cv(accession)).join('');
}

function massParams(...accessions: string[]): string {
  return ['MS:1000514', 'MS:1000523', ...accessions].map((accession) => cv(accession)).join('');
}

function otherPackings(seed: number, zstdHere: boolean): OddRun[] {
  const { all, one, told } = makers(seed);
  const zstd = (kind: string, accession: string, pack: (parts: Partial<SpectrumParts>) => Uint8Array) =>
    variant(
      `zstd, ${kind}`,
      one((parts) => ({ text: base64(zstdFrame(pack(parts))), arrayParams: intensityParams(accession) })),
      zstdHere && accession !== 'MS:1003782'
        ? SAME
        : told(/in (dictionary-encoded )?zstd compression/, 'tic_summed'),
    );
  const floats = (parts: Partial<SpectrumParts>) => packed(parts.intensities!, 'float32');
  return [
    variant(
      'm/z as MS-Numpress linear, intensities as pic, both in zlib',
      all((parts) => ({
        ...parts,
        massText: base64(deflateSync(numpress('linear', parts.masses!, MASS_POINT))),
        massParams: massParams('MS:1002746'),
        text: base64(deflateSync(numpress('pic', parts.intensities!, 1))),
        arrayParams: intensityParams('MS:1002747'),
      })),
      SAME,
    ),
    variant(
      'm/z as MS-Numpress linear, with zlib named beside it, as older files do',
      all((parts) => ({
        ...parts,
        massText: base64(deflateSync(numpress('linear', parts.masses!, MASS_POINT))),
        massParams: massParams('MS:1002312', 'MS:1000574'),
      })),
      SAME,
    ),
    ...(['MS:1002314', 'MS:1002748'] as const).map((accession) =>
      variant(
        `MS-Numpress slof, ${accession}`,
        all((parts) => {
          const bytes = numpress('slof', parts.intensities!, SLOF_POINT);
          return {
            ...parts,
            text: base64(accession === 'MS:1002748' ? deflateSync(bytes) : bytes),
            arrayParams: intensityParams(accession),
          };
        }),
        { same: true, lossy: SLOF_ERROR },
      ),
    ),
    variant(
      'damaged MS-Numpress',
      one(() => ({ text: base64(new Uint8Array(40)), arrayParams: intensityParams('MS:1002312') })),
      told(/in MS-Numpress that could not be read/, 'tic_summed'),
    ),
    zstd('plain', 'MS:1003780', floats),
    zstd('byte-shuffled', 'MS:1003781', (parts) => shuffled(floats(parts), 4)),
    zstd('dictionary-encoded', 'MS:1003782', floats),
    zstd('MS-Numpress linear', 'MS:1003783', (parts) => numpress('linear', parts.intensities!, 1)),
    zstd('MS-Numpress pic', 'MS:1003784', (parts) => numpress('pic', parts.intensities!, 1)),
    variant(
      'a number type of no use',
      one(() => ({ arrayParams: cv('MS:1000515') + cv('MS:1000520') + cv('MS:1000576') })),
      told(/without a known number type/, 'tic_summed'),
    ),
    variant(
      'integers of 32 and 64 bits as m/z',
      all((parts, i) => ({
        ...parts,
        masses: parts.masses!.map(Math.floor),
        massType: i % 2 === 0 ? 'int32' : 'int64',
      })),
      { same: true, lossy: 1 / 350 },
    ),
    variant(
      'lengths told by each array, not by the spectrum',
      written(seed)
        .replaceAll(` defaultArrayLength="${PEAKS}"`, ' defaultArrayLength="7"')
        .replaceAll('<binaryDataArray ', `<binaryDataArray arrayLength="${PEAKS}" `)
        .replaceAll(/(defaultArrayLength="2"[\s\S]*?<\/spectrum>)/g, (ms2) =>
          ms2.replaceAll(`arrayLength="${PEAKS}"`, 'arrayLength="2"'),
        ),
      SAME,
    ),
    variant('no lengths at all', written(seed).replaceAll(/ defaultArrayLength="\d+"/g, ''), SAME),
    variant(
      'lengths of texts that are wrong',
      written(seed).replaceAll(/encodedLength="\d+"/g, 'encodedLength="1"'),
      SAME,
    ),
  ];
}

function otherPlaces(seed: number): OddRun[] {
  const { all, one, told } = makers(seed);
  const ref = (id: string) => `<referenceableParamGroupRef ref="${id}"/>`;
  const group = (id: string, params: string) =>
    `<referenceableParamGroup id="${id}">${params}</referenceableParamGroup>`;
  const kind = (parts: Partial<SpectrumParts>, by: string) => parts.params!.replace(MS1_PARAMS, by);
  return [
    variant(
      'a group that refers to another group',
      all((parts) => ({ ...parts, params: kind(parts, ref('outer')) }), {
        groups: group('inner', MS1_PARAMS) + group('outer', ref('inner')),
      }),
      SAME,
    ),
    variant(
      'a group that refers to itself',
      all((parts) => parts, { groups: group('self', cv('MS:1000130') + ref('self')) }),
      told(/1 reference to a parameter group that the file does not hold/, undefined, ''),
    ),
    variant(
      'a group that refers to a later one',
      all((parts) => parts, { groups: group('a', ref('b')) + group('b', MS1_PARAMS) }),
      told(/1 reference to a parameter group that the file does not hold/, undefined, ''),
    ),
    variant(
      'userParams with an accession of their own',
      written(seed).replaceAll(
        /<cvParam cvRef="MS" accession="MS:1000927" name="n"/g,
        '<userParam accession="MS:1000927" name="Fill time"',
      ),
      SAME,
    ),
    variant(
      'userParams by the name of the term',
      written(seed).replaceAll(
        /<cvParam cvRef="MS" accession="MS:1000927" name="n"/g,
        '<userParam name="ion injection time"',
      ),
      SAME,
    ),
    variant(
      'userParams of any name and value',
      all((parts) => ({
        ...parts,
        params: `${parts.params}<userParam name="MS level" value="2"/><userParam name="a &lt; b"/>`,
      })),
      SAME,
    ),
    variant(
      'numbers with signs, exponents and blanks',
      all((parts, i) => ({
        ...parts,
        time: cv('MS:1000016', ` +${(Number(scansOf(seed)[i]!.time_min) * 10).toString()}e-1 `, MINUTE),
      })),
      SAME,
    ),
    variant(
      'two intensity arrays',
      one((parts) => ({
        moreArrays: `<binaryDataArray encodedLength="0">${intensityParams('MS:1000576')}<binary>${base64(
          packed(
            parts.intensities!.map((value) => 2 * value),
            'float32',
          ),
        )}</binary></binaryDataArray>`,
      })),
      told(/with more than one intensity array/),
    ),
    variant(
      'fewer spectra than announced',
      written(seed, undefined, { count: '999' }),
      told(/The file announces 999 and holds 72 spectra/, undefined, ''),
    ),
    variant(
      'a second document behind the first',
      `${written(seed)}\n${written(seed)}`,
      told(/bytes after the end of the document, not read/, undefined, ''),
    ),
    variant(
      'a document type in the middle',
      written(seed).replace('</spectrumList>', '<!DOCTYPE a [<!ENTITY b "c">]></spectrumList>'),
      { rows: SCANS, broken: /^a document type declaration inside the document$/ },
    ),
    variant(
      'an index cut off',
      written(seed)
        .replace('<mzML', '<indexedmzML><mzML')
        .concat('<indexList count="1"><index name="spectrum"><offset idRef="scan=1">12'),
      { rows: SCANS, broken: /^the file ends inside <offset>$/ },
    ),
    ...[
      ['an xz file', [0xfd, 0x37, 0x7a, 0x58, 0x5a, 0], /an xz-compressed file/],
      [
        'an instrument file',
        [0x01, 0xa1, 0x46, 0, 0x69, 0],
        /an instrument's own raw file, to be converted first/,
      ],
    ].map(([name, bytes, refused]) =>
      variant(name as string, Uint8Array.from(bytes as number[]), { refused: refused as RegExp }),
    ),
  ];
}

/** One member with the flags of block-wise gzip: an extra field that names its size. */
function block(bytes: Uint8Array): Uint8Array {
  const packedBytes = gzipSync(bytes);
  const extra = [6, 0, 0x42, 0x43, 2, 0, 0, 0];
  const whole = Uint8Array.from([...packedBytes.subarray(0, 10), ...extra, ...packedBytes.subarray(10)]);
  whole[3] = 4;
  return whole;
}

function otherGzip(seed: number): OddRun[] {
  const bytes = plainRun(seed);
  const blocks: Uint8Array[] = [];
  for (let at = 0; at < bytes.length; at += 700) blocks.push(block(bytes.subarray(at, at + 700)));
  const damaged = Uint8Array.from(gzipSync(bytes));
  damaged.fill(0xff, damaged.length - 3000, damaged.length - 2990);
  const wrongSum = Uint8Array.from(gzipSync(bytes));
  wrongSum[wrongSum.length - 6]! ^= 1;
  return [
    variant(
      'gzip in many blocks, the last one empty',
      Buffer.concat([...blocks, block(new Uint8Array(0))]),
      SAME,
    ),
    variant('gzip stored, not compressed', gzipSync(bytes, { level: 0 }), SAME),
    variant('gzip damaged near its end', damaged, { rows: -1, broken: /./ }),
    variant('gzip with a wrong checksum', wrongSum, {
      rows: -1,
      broken: /^the gzip data do not fit their checksum, so any row may be damaged/,
    }),
  ];
}

function spoiledValues(seed: number): OddRun[] {
  const { one, told } = makers(seed);
  const window = (from: string, to: string) =>
    one((parts) => ({ scanParams: parts.scanParams!.replace(from, to) }));
  return [
    variant(
      'a scan window with a decimal comma',
      window('value="350"', 'value="350,0"'),
      told(/limit of the scan window/, 'window_low'),
    ),
    variant(
      'a scan window without an end',
      window('value="1600"', 'value=""'),
      told(/limit of the scan window/, 'window_high'),
    ),
    variant(
      'a base peak that is NaN',
      written(seed, (parts, i) => ({
        ...parts,
        params: parts.params + cv('MS:1000505', i === SPOILED ? 'NaN' : '5'),
      })),
      told(/stated base peak that is not a number/),
    ),
    variant(
      'm/z that do not rise',
      one((parts) => ({ masses: [...parts.masses!].reverse() })),
      told(/whose values do not rise/),
    ),
    variant(
      'an infinite m/z',
      one((parts) => ({ masses: parts.masses!.map((mz, i) => (i === 3 ? Number.POSITIVE_INFINITY : mz)) })),
      told(/holding a value that is not a positive number/),
    ),
    variant(
      'no injection time in one scan',
      one(() => ({ scanParams: windowOf() })),
      told(/without an injection time, though others have one/, 'injection_ms'),
    ),
    variant(
      'an injection time with a decimal comma',
      one(() => ({ scanParams: cv('MS:1000927', '9,5', MILLISECOND) + windowOf() })),
      told(/injection time that is not a number/, 'injection_ms'),
    ),
    variant(
      'a TIC with a decimal comma',
      one(() => ({ params: MS1_PARAMS + cv('MS:1000285', '1,5') })),
      told(/stated TIC that is not a number/, 'tic_stated'),
    ),
    variant(
      'a negative TIC',
      one(() => ({ params: MS1_PARAMS + cv('MS:1000285', '-8') })),
      told(/with a negative stated TIC/),
    ),
    variant(
      'a time repeated',
      one(() => ({ time: cv('MS:1000016', scansOf(seed)[SPOILED - 1]!.time_min, MINUTE) })),
      told(/the same scan start time/),
    ),
    variant(
      'a time in a unit named only by word',
      one((parts) => ({ time: parts.time!.replace(/unitCvRef.*unitName="unit"/, 'unitName="minute"') })),
      told(/in no unit or an unknown one/, 'time_s'),
    ),
    variant(
      'a level that is no whole number',
      one(() => ({ level: cv('MS:1000511', '1,0') })),
      { told: /without a readable MS level/, rows: SCANS - 1 },
    ),
    variant(
      'text for an array',
      one(() => ({ text: '&#65;AAA' })),
      told(/damaged base64/, 'tic_summed'),
    ),
  ];
}

/** Text of zeros in zlib, far more than a spectrum has, made once. */
let zeros: string | undefined;
const BOMB_BYTES = 256e6;

function bombs(seed: number): OddRun[] {
  const { one, told } = makers(seed);
  const bytes = plainRun(seed);
  const ends = [...new TextDecoder().decode(bytes).matchAll(/<\/spectrum>/g)].map(
    (match) => match.index + match[0].length,
  );
  const before = bytes.subarray(0, ends[30]!);
  zeros ??= base64(deflateSync(new Uint8Array(BOMB_BYTES)));
  const grains = gzipSync(new Uint8Array(16 * 2 ** 20).fill(0x41));
  const blanks = gzipSync(new Uint8Array(16 * 2 ** 20).fill(0x20));
  const open =
    '<spectrum index="0" id="a" defaultArrayLength="9"><cvParam accession="MS:1000511" value="1"/><binaryDataArrayList><binaryDataArray><binary>';
  return [
    variant(
      'a zlib bomb that declares its length',
      one(() => ({ zlib: true, text: zeros!, declared: BOMB_BYTES / 4 })),
      told(/declared longer than 8 million values/, 'tic_summed'),
    ),
    variant(
      'a length of two thousand million, and little data',
      one(() => ({ declared: 2e9 })),
      told(/declared longer than 8 million values/, 'tic_summed'),
    ),
    variant(
      'a length of five million, and little data',
      one((parts) => ({ declared: 5e6, massText: base64(packed(parts.masses!, 'float64')) })),
      told(/length other than the declared/, 'tic_summed'),
    ),
    {
      ...variant('a gzip bomb of blanks', Buffer.concat([gzipSync(before), ...Array(8).fill(blanks)]), {
        rows: 11,
        broken: /^a stretch of markup longer than 4 MiB/,
      }),
      bomb: true,
    },
    {
      ...variant(
        'a gzip bomb of one array',
        Buffer.concat([gzipSync(before), gzipSync(open), ...Array(20).fill(grains)]),
        { rows: 11, broken: /^an array longer than 256 MiB of text/ },
      ),
      bomb: true,
    },
  ];
}

export function hostileMzxml(seed: number): OddRun[] {
  const of = (name: string, file: string, outcome: Outcome) => variant(`mzXML, ${name}`, file, outcome);
  const one = (change: (parts: Partial<ScanParts>) => Partial<ScanParts>) =>
    writtenMzxml(seed, (parts, i) => (i === SPOILED ? { ...parts, ...change(parts) } : parts));
  const attribute = (from: RegExp, to: string) =>
    one((parts) => ({ attributes: parts.attributes!.replace(from, to) }));
  const plain = writtenMzxml(seed);
  return [
    of('fewer scans than announced', plain.replace(/scanCount="\d+"/, 'scanCount="999"'), {
      told: /The file announces 999 and holds 72 spectra/,
      place: '',
    }),
    of('a scan window with a decimal comma', attribute(/startMz="350"/, 'startMz="350,0"'), {
      told: /limit of the scan window/,
      empty: 'window_low',
    }),
    of('a base peak that is no number', attribute(/$/, ' basePeakIntensity="INF"'), {
      told: /stated base peak that is not a number/,
    }),
    of('a length of two thousand million', withCount(plain, 2_000_000_000), {
      told: /declared longer than 8 million values/,
      empty: 'tic_summed',
    }),
    of(
      'damaged zlib',
      one(() => ({ peaksAttributes: 'byteOrder="network" contentType="m/z-int" compressionType="zlib"' })),
      { told: /zlib data damaged/, empty: 'tic_summed' },
    ),
    of(
      'm/z that do not rise',
      one((parts) => ({ pairs: [...parts.pairs!].reverse() })),
      { told: /whose values do not rise/ },
    ),
  ];
}
