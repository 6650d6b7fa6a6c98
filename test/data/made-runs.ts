/** Hand-made run files for the tests of the readers; invented numbers, no real run. */
import { deflateSync } from 'node:zlib';

export type Packing = 'float64' | 'float32' | 'int32' | 'int64';

const TYPE_ACCESSION: Record<Packing, string> = {
  float64: 'MS:1000523',
  float32: 'MS:1000521',
  int32: 'MS:1000519',
  int64: 'MS:1000522',
};

export function packed(values: readonly number[], type: Packing, little = true): Uint8Array {
  const size = type === 'float64' || type === 'int64' ? 8 : 4;
  const view = new DataView(new ArrayBuffer(values.length * size));
  values.forEach((value, i) => {
    if (type === 'float64') view.setFloat64(i * 8, value, little);
    else if (type === 'float32') view.setFloat32(i * 4, value, little);
    else if (type === 'int32') view.setInt32(i * 4, value, little);
    else view.setBigInt64(i * 8, BigInt(value), little);
  });
  return new Uint8Array(view.buffer);
}

export function base64(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('base64');
}

export function cv(accession: string, value = '', unit = ''): string {
  const unitPart = unit === '' ? '' : ` unitCvRef="UO" unitAccession="${unit}" unitName="unit"`;
  return `<cvParam cvRef="MS" accession="${accession}" name="n" value="${value}"${unitPart}/>`;
}

export const MINUTE = 'UO:0000031';
export const SECOND = 'UO:0000010';
export const MILLISECOND = 'UO:0000028';

export interface SpectrumParts {
  level: string;
  /** The parameter of the scan start time; '' for none. */
  time: string;
  intensities: readonly number[];
  type: Packing;
  zlib: boolean;
  /** Overrides defaultArrayLength. */
  declared: number;
  /** Overrides the base64 text of the intensities. */
  text: string;
  /** Overrides the parameters of the intensity array. */
  arrayParams: string;
  /** Overrides the m/z values and their stored type. */
  masses: readonly number[];
  massType: Packing;
  /** Overrides the base64 text of the m/z array, and its parameters. */
  massText: string;
  massParams: string;
  /** More array elements behind the two. */
  moreArrays: string;
  /** More parameters of the spectrum and of its scan. */
  params: string;
  scanParams: string;
  scanAttributes: string;
}

export function mzmlSpectrum(parts: Partial<SpectrumParts> = {}): string {
  const intensities = parts.intensities ?? [1, 2, 3];
  const type = parts.type ?? 'float32';
  const bytes = packed(intensities, type);
  const text = parts.text ?? base64(parts.zlib ? deflateSync(bytes) : bytes);
  const massType = parts.massType ?? 'float64';
  const masses =
    parts.massText ?? base64(packed(parts.masses ?? intensities.map((_, i) => 100 + i), massType));
  const massParams = parts.massParams ?? cv('MS:1000514') + cv(TYPE_ACCESSION[massType]) + cv('MS:1000576');
  const arrayParams =
    parts.arrayParams ??
    cv('MS:1000515') + cv(TYPE_ACCESSION[type]) + cv(parts.zlib ? 'MS:1000574' : 'MS:1000576');
  return `<spectrum index="0" id="scan=1" defaultArrayLength="${parts.declared ?? intensities.length}">
${parts.level ?? cv('MS:1000511', '1')}${parts.params ?? ''}
<scanList count="1"><scan ${parts.scanAttributes ?? ''}>${parts.time ?? cv('MS:1000016', '1.5', MINUTE)}${parts.scanParams ?? ''}</scan></scanList>
<binaryDataArrayList count="2">
<binaryDataArray encodedLength="${masses.length}">${massParams}<binary>${masses}</binary></binaryDataArray>
<binaryDataArray encodedLength="${text.length}">${arrayParams}<binary>${text}</binary></binaryDataArray>${parts.moreArrays ?? ''}
</binaryDataArrayList></spectrum>`;
}

export interface MzmlParts {
  prolog: string;
  /** Overrides the announced count of spectra. */
  count: string;
  content: string;
  groups: string;
  run: string;
  after: string;
}

export function mzml(spectra: readonly string[], parts: Partial<MzmlParts> = {}): string {
  return `${parts.prolog ?? '<?xml version="1.0" encoding="utf-8"?>\n'}<mzML xmlns="http://psi.hupo.org/ms/mzml" version="1.1.0">
<fileDescription><fileContent>${parts.content ?? ''}</fileContent></fileDescription>
<referenceableParamGroupList count="1">${parts.groups ?? ''}</referenceableParamGroupList>
<run id="r" defaultInstrumentConfigurationRef="IC1">${parts.run ?? ''}<spectrumList count="${parts.count ?? spectra.length}">
${spectra.join('\n')}
</spectrumList>${parts.after ?? ''}</run></mzML>`;
}

/** A zlib-packed array of zeros far beyond what it declares: 16 MiB out of about 16 KiB. */
export function zlibBomb(): string {
  return base64(deflateSync(new Uint8Array(16 * 2 ** 20)));
}

export interface ScanParts {
  attributes: string;
  pairs: readonly (readonly [number, number])[];
  precision: 32 | 64;
  zlib: boolean;
  peaksAttributes: string;
  nested: string;
}

export function mzxmlScan(parts: Partial<ScanParts> = {}): string {
  const pairs = parts.pairs ?? [
    [100, 10],
    [101, 20],
  ];
  const precision = parts.precision ?? 32;
  const bytes = packed(pairs.flat(), precision === 32 ? 'float32' : 'float64', false);
  const text = base64(parts.zlib ? deflateSync(bytes) : bytes);
  const attributes = parts.attributes ?? 'msLevel="1" retentionTime="PT1.5S" totIonCurrent="33" polarity="+"';
  const peaksAttributes =
    parts.peaksAttributes ??
    `byteOrder="network" contentType="m/z-int" compressionType="${parts.zlib ? 'zlib' : 'none'}"`;
  return `<scan num="1" peaksCount="${pairs.length}" ${attributes}>
<peaks precision="${precision}" ${peaksAttributes}>${text}</peaks>${parts.nested ?? ''}</scan>`;
}

export function mzxml(scans: readonly string[]): string {
  const count = scans.join('').split('<scan ').length - 1;
  return `<?xml version="1.0" encoding="ISO-8859-1"?>
<mzXML xmlns="http://sashimi.sourceforge.net/schema_revision/mzXML_3.2"><msRun scanCount="${count}">
<dataProcessing centroided="1"/>${scans.join('\n')}</msRun></mzXML>`;
}
