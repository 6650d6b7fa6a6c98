/**
 * MS-Numpress, decoding only: numbers predicted and written as differences in half bytes (linear), whole numbers (pic), logarithms
 * in two bytes (slof). Lossy by design; what was lost is not in the file. Teleman et al. 2014, Mol. Cell. Proteomics 13, 1537
 * (method read (abstract); byte layout from memory, checked by worked examples and against the
 * authors' library, test/published/numpress-peer.test.ts). Every length is checked: hostile data are refused.
 *
 * Half bytes, high half first: a head h ≤ 8 means h leading zero half bytes of a 32-bit number were left out, h > 8 means h − 8
 * leading half bytes of ones; the rest follow, lowest first.
 */
export type NumpressKind = 'linear' | 'pic' | 'slof';

/** The values, or undefined when the bytes are no such array or hold more than `most` values. */
export function numpressValues(
  kind: NumpressKind,
  bytes: Uint8Array,
  most: number,
): Float64Array | undefined {
  const values =
    kind === 'linear' ? linear(bytes, most) : kind === 'pic' ? whole(bytes, most) : shortLogs(bytes, most);
  return values?.every(Number.isFinite) ? values : undefined;
}

/** Fixed point (8 bytes, big-endian double), two starting numbers (4 bytes each, little-endian), then differences to the straight line. */
function linear(bytes: Uint8Array, most: number): Float64Array | undefined {
  const scale = fixedPoint(bytes);
  if (scale === undefined) return undefined;
  if (bytes.length === 8) return new Float64Array(0);
  if (bytes.length < 12 || (bytes.length > 12 && bytes.length < 16)) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const values: number[] = [view.getUint32(8, true) / scale];
  if (bytes.length === 12) return Float64Array.from(values);
  let before = view.getUint32(8, true);
  let last = view.getUint32(12, true);
  values.push(last / scale);
  const halves = new HalfBytes(bytes, 16);
  while (halves.more()) {
    const difference = halves.signed();
    if (difference === undefined || values.length >= most) return undefined;
    const next = 2 * last - before + difference;
    before = last;
    last = next;
    values.push(next / scale);
  }
  return values.length > most ? undefined : Float64Array.from(values);
}

/** Positive whole numbers, one after another. */
function whole(bytes: Uint8Array, most: number): Float64Array | undefined {
  const values: number[] = [];
  const halves = new HalfBytes(bytes, 0);
  while (halves.more()) {
    const value = halves.signed();
    if (value === undefined || values.length >= most) return undefined;
    values.push(value >>> 0);
  }
  return Float64Array.from(values);
}

/** Fixed point, then exp(x/scale) − 1 of two-byte numbers, little-endian. */
function shortLogs(bytes: Uint8Array, most: number): Float64Array | undefined {
  const scale = fixedPoint(bytes);
  if (scale === undefined || bytes.length % 2 !== 0 || (bytes.length - 8) / 2 > most) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return Float64Array.from({ length: (bytes.length - 8) / 2 }, (_, k) =>
    Math.expm1(view.getUint16(8 + 2 * k, true) / scale),
  );
}

function fixedPoint(bytes: Uint8Array): number | undefined {
  if (bytes.length < 8) return undefined;
  const scale = new DataView(bytes.buffer, bytes.byteOffset, 8).getFloat64(0, false);
  return scale > 0 && Number.isFinite(scale) ? scale : undefined;
}

class HalfBytes {
  readonly #bytes: Uint8Array;
  #at: number;
  #low = false;

  constructor(bytes: Uint8Array, from: number) {
    this.#bytes = bytes;
    this.#at = from;
  }

  /** False at the end, and at a last half byte of zero, which only fills the byte. */
  more(): boolean {
    if (this.#at >= this.#bytes.length) return false;
    const isFiller = this.#low && this.#at === this.#bytes.length - 1 && (this.#bytes[this.#at]! & 0xf) === 0;
    return !isFiller;
  }

  /** The next number as 32 signed bits; undefined when the bytes end within it. */
  signed(): number | undefined {
    const head = this.#half();
    if (head === undefined) return undefined;
    const left = head <= 8 ? head : head - 8;
    let value = head <= 8 ? 0 : (0xffffffff << (4 * (8 - left))) | 0;
    for (let k = 0; k < 8 - left; k++) {
      const half = this.#half();
      if (half === undefined) return undefined;
      value |= half << (4 * k);
    }
    return value;
  }

  #half(): number | undefined {
    const byte = this.#bytes[this.#at];
    if (byte === undefined) return undefined;
    if (this.#low) {
      this.#at += 1;
      this.#low = false;
      return byte & 0xf;
    }
    this.#low = true;
    return byte >> 4;
  }
}
