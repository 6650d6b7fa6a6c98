/** Writes MS-Numpress for the tests of the reader, after the paper's description; lossy by design. */
export function numpress(
  kind: 'linear' | 'pic' | 'slof',
  values: readonly number[],
  scale: number,
): Uint8Array {
  if (kind === 'pic') return halved(values.map((value) => Math.round(value)));
  const head = new Uint8Array(8);
  new DataView(head.buffer).setFloat64(0, scale, false);
  if (kind === 'slof') {
    const body = new DataView(new ArrayBuffer(2 * values.length));
    values.forEach((value, k) => {
      body.setUint16(2 * k, Math.round(Math.log1p(value) * scale), true);
    });
    return joined(head, new Uint8Array(body.buffer));
  }
  const whole = values.map((value) => Math.round(value * scale));
  const first = new DataView(new ArrayBuffer(4 * Math.min(2, whole.length)));
  whole.slice(0, 2).forEach((value, k) => {
    first.setUint32(4 * k, value, true);
  });
  const differences = whole.slice(2).map((value, k) => value - (2 * whole[k + 1]! - whole[k]!));
  return joined(head, new Uint8Array(first.buffer), halved(differences));
}

/** Whole numbers of 32 bits as half bytes: a head that counts the leading zeros or ones left out, the rest lowest first. */
function halved(numbers: readonly number[]): Uint8Array {
  const halves: number[] = [];
  for (const number of numbers) {
    const nibbles = Array.from({ length: 8 }, (_, k) => (number >>> (4 * k)) & 0xf);
    const fill = (number | 0) < 0 ? 0xf : 0;
    let kept = 8;
    while (kept > (fill === 0 ? 0 : 1) && nibbles[kept - 1] === fill) kept -= 1;
    // A negative number without a leading half byte of ones is written whole, under the head 0.
    halves.push(fill === 0 || kept === 8 ? 8 - kept : 16 - kept, ...nibbles.slice(0, kept));
  }
  if (halves.length % 2 === 1) halves.push(0);
  return Uint8Array.from({ length: halves.length / 2 }, (_, k) => (halves[2 * k]! << 4) | halves[2 * k + 1]!);
}

function joined(...parts: Uint8Array[]): Uint8Array {
  return Uint8Array.from(parts.flatMap((part) => [...part]));
}
