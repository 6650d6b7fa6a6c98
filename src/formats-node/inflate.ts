/** The packings of Node for the pure readers: zlib always, zstd where this Node has it (22.15 and 23.8 on). */
import * as zlib from 'node:zlib';
import type { Inflate } from '../formats/run-record.ts';

export const inflate: Inflate = (bytes, maxBytes) =>
  zlib.inflateSync(bytes, { maxOutputLength: Math.max(1, maxBytes), chunkSize: pieceBytes(maxBytes) });

/**
 * Room asked for at once: the size that the array should have. Node's own 16 KiB for each of some hundred thousand small arrays
 * fill tens of megabytes before they are given back. Node takes no smaller piece than 64; an unknown length grows by the larger.
 */
function pieceBytes(maxBytes: number): number {
  return Math.min(PIECE.most, Math.max(PIECE.least, maxBytes));
}

const PIECE = { least: 64, most: 2 ** 18 };

/** Not among the types of the oldest Node that is supported. */
type Unzstd = (bytes: Uint8Array, options: { maxOutputLength: number }) => Uint8Array;
const decompress = (zlib as unknown as { zstdDecompressSync?: Unzstd }).zstdDecompressSync;

/** undefined where this Node has no zstd: the reader then refuses such arrays by name. */
export const unzstd: Inflate | undefined =
  decompress && ((bytes, maxBytes) => decompress(bytes, { maxOutputLength: Math.max(1, maxBytes) }));
