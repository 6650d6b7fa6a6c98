/**
 * Random but correct mzML by seed, with the vocabulary's own names, as general-purpose readers want it: number types,
 * packing, order of parameters, blanks, MS levels and units differ from file to file and from scan to scan.
 */
import { deflateSync } from 'node:zlib';
import { type RandomStream, randomStream } from '../../src/core/random.ts';
import { base64, packed } from './made-runs.ts';

export interface PlainScan {
  level: number;
  time_s: number;
  masses: number[];
  intensities: number[];
}

export interface PlainRun {
  document: string;
  scans: PlainScan[];
}

const MOST_PEAKS = 30;
/** Whole numbers up to here, over a power of two, are the same in 32 and in 64 bits. */
const LARGEST = 2 ** 20;

export function plainRunOf(seed: number): PlainRun {
  const draw = randomStream(seed, 'plain run');
  const minutes = draw.unit() < 0.5;
  const blank = ['\n', '\n    ', '\r\n\t', ''][draw.index(4)]!;
  const count = 2 + draw.index(12);
  const scans: PlainScan[] = [];
  const spectra: string[] = [];
  for (let i = 0; i < count; i += 1) {
    const peaks = 1 + draw.index(MOST_PEAKS);
    const scan = {
      level: i === 0 || draw.unit() < 0.5 ? 1 : 2,
      time_s: 60 * (i + 1 + draw.index(60) / 64),
      masses: Array.from({ length: peaks }, () => (LARGEST + draw.index(LARGEST)) / 1024).sort(
        (a, b) => a - b,
      ),
      intensities: Array.from({ length: peaks }, () => draw.index(LARGEST) / 8),
    };
    scans.push(scan);
    spectra.push(spectrum(scan, i, minutes, blank, draw));
  }
  const document = `<?xml version="1.0" encoding="utf-8"?>
<mzML xmlns="http://psi.hupo.org/ms/mzml" version="1.1.0"><cvList count="2"><cv id="MS" fullName="MS" version="4.1.257" URI="psi-ms.obo"/><cv id="UO" fullName="UO" version="1" URI="uo.obo"/></cvList>
<fileDescription><fileContent>${cv('MS:1000579', 'MS1 spectrum')}</fileContent></fileDescription>
<run id="r" defaultInstrumentConfigurationRef="IC1"><spectrumList count="${count}" defaultDataProcessingRef="DP">${blank}${spectra.join(blank)}</spectrumList></run></mzML>
`;
  return { document, scans };
}

function spectrum(
  scan: PlainScan,
  index: number,
  minutes: boolean,
  blank: string,
  draw: RandomStream,
): string {
  const params = shuffled(
    [
      cv('MS:1000511', 'ms level', String(scan.level)),
      cv('MS:1000127', 'centroid spectrum'),
      cv('MS:1000130', 'positive scan'),
      ...(draw.unit() < 0.5 ? [cv('MS:1000504', 'base peak m/z', '500', MZ)] : []),
      ...(draw.unit() < 0.5 ? [cv('MS:1000796', 'spectrum title', `a > b "${index}`.replace('"', "'"))] : []),
    ],
    draw,
  ).join(blank);
  const time = minutes
    ? cv('MS:1000016', 'scan start time', String(scan.time_s / 60), unit('UO:0000031', 'minute'))
    : cv('MS:1000016', 'scan start time', String(scan.time_s), unit('UO:0000010', 'second'));
  const injection = cv('MS:1000927', 'ion injection time', '5', unit('UO:0000028', 'millisecond'));
  const arrays = shuffled(
    [
      array(scan.masses, cv('MS:1000514', 'm/z array', '', MZ), blank, draw),
      array(scan.intensities, cv('MS:1000515', 'intensity array'), blank, draw),
    ],
    draw,
  );
  return `<spectrum index="${index}" id="scan=${index + 1}" defaultArrayLength="${scan.masses.length}">${blank}${params}${blank}<scanList count="1">${blank}${cv('MS:1000795', 'no combination')}<scan>${shuffled([time, injection], draw).join(blank)}</scan></scanList>${blank}<binaryDataArrayList count="2">${arrays.join(blank)}</binaryDataArrayList>${blank}</spectrum>`;
}

const MZ = unit('MS:1000040', 'm/z');

function array(values: readonly number[], kind: string, blank: string, draw: RandomStream): string {
  const wide = draw.unit() < 0.5;
  const zlib = draw.unit() < 0.5;
  const bytes = packed(values, wide ? 'float64' : 'float32');
  const text = base64(zlib ? deflateSync(bytes) : bytes);
  const params = [
    wide ? cv('MS:1000523', '64-bit float') : cv('MS:1000521', '32-bit float'),
    zlib ? cv('MS:1000574', 'zlib compression') : cv('MS:1000576', 'no compression'),
    kind,
  ];
  return `<binaryDataArray encodedLength="${text.length}">${shuffled(params, draw).join(blank)}<binary>${text}</binary></binaryDataArray>`;
}

function cv(accession: string, name: string, value = '', unitPart = ''): string {
  return `<cvParam cvRef="MS" accession="${accession}" name="${name}" value="${value}"${unitPart}/>`;
}

function unit(accession: string, name: string): string {
  return ` unitCvRef="${accession.slice(0, 2)}" unitAccession="${accession}" unitName="${name}"`;
}

function shuffled<T>(items: T[], draw: RandomStream): T[] {
  for (let i = items.length - 1; i > 0; i -= 1) {
    const j = draw.index(i + 1);
    [items[i], items[j]] = [items[j]!, items[i]!];
  }
  return items;
}
