/** What a trace file is by its first bytes. Kinds that are not read are refused by their name. */
import { inputError } from '../../core/errors.ts';

/** Bytes that tell the kind. */
export const SNIFFED = 512;
const EXPECTED =
  'a table (CSV, TSV), a WAV file, or raw little-endian samples with a JSON sidecar (FILE.json)';

export function traceKind(bytes: Uint8Array): 'wav' | 'table' {
  const head = bytes.subarray(0, SNIFFED);
  if (head.length === 0) throw inputError('missing', 'samples', 'the file is empty', EXPECTED);
  const text = String.fromCharCode(...head.subarray(0, 64));
  if (/^(RIFF|RF64)[\s\S]{4}WAVE/.test(text)) return 'wav';
  const other = otherKind(text);
  if (other !== undefined) throw inputError('invalid', 'trace file', other, EXPECTED);
  if (head.includes(0))
    throw inputError(
      'invalid',
      'trace file',
      'binary data without a sidecar',
      `${EXPECTED}; docs/reading-current.md shows the sidecar`,
    );
  return 'table';
}

function otherKind(text: string): string | undefined {
  if (text.startsWith('PK\u0003\u0004'))
    return 'a zip archive or spreadsheet workbook; save the sheet as CSV';
  if (text.startsWith('\u001f\u008b')) return 'gzip data; unpack it first';
  if (text.startsWith('\u0089HDF')) return 'an HDF5 file; export the channel as CSV or raw samples';
  if (text.startsWith('\u0093NUMPY'))
    return 'an array file with its own header; write the bare samples and a sidecar';
  if (text.startsWith('MATLAB 5.0')) return 'a saved workspace; export the channel as CSV or raw samples';
  if (text.startsWith('SQLite format 3')) return 'a database';
  if (text.startsWith('\u0089PNG') || text.startsWith('\u00ff\u00d8\u00ff') || text.startsWith('GIF8'))
    return 'a picture';
  if (text.startsWith('%PDF')) return 'a PDF document';
  if (text.startsWith('fLaC') || text.startsWith('OggS') || text.startsWith('ID3'))
    return 'compressed sound; save it as WAV';
  if (/^\s*(\u00ef\u00bb\u00bf)?<(\?xml|mzML|indexedmzML|mzXML|!DOCTYPE|html)/i.test(text))
    return 'XML or HTML; for run files use `steadycone read`';
  if (/^\s*[{[]\s*["{[]/.test(text)) return 'JSON; give the sample file, its sidecar is found beside it';
  return undefined;
}
