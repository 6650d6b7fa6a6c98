/** Base64 of bytes, for the arrays of an mzML file (RFC 4648, section 4). */
const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
/** Two characters for each value of twelve bits. */
const PAIRS = Array.from({ length: 4096 }, (_, i) => ALPHABET[i >> 6]! + ALPHABET[i & 63]!);

export function base64(bytes: Uint8Array): string {
  let text = '';
  let i = 0;
  for (; i + 2 < bytes.length; i += 3) {
    const triple = (bytes[i]! << 16) | (bytes[i + 1]! << 8) | bytes[i + 2]!;
    text += PAIRS[triple >> 12]! + PAIRS[triple & 4095]!;
  }
  if (i + 1 === bytes.length) return `${text}${PAIRS[bytes[i]! << 4]!}==`;
  if (i + 2 === bytes.length) {
    const pair = (bytes[i]! << 8) | bytes[i + 1]!;
    return `${text}${PAIRS[pair >> 4]!}${ALPHABET[(pair & 15) << 2]!}=`;
  }
  return text;
}

/** Little-endian bytes, whatever the machine's own order. */
export function float64Bytes(values: ArrayLike<number>): Uint8Array {
  const view = new DataView(new ArrayBuffer(values.length * 8));
  for (let i = 0; i < values.length; i++) view.setFloat64(i * 8, values[i]!, true);
  return new Uint8Array(view.buffer);
}

export function float32Bytes(values: ArrayLike<number>): Uint8Array {
  const view = new DataView(new ArrayBuffer(values.length * 4));
  for (let i = 0; i < values.length; i++) view.setFloat32(i * 4, values[i]!, true);
  return new Uint8Array(view.buffer);
}
