/** Bytes that wait for those behind them, in one buffer that is used again and again. */
export class HeldBytes {
  length = 0;
  #buffer = new Uint8Array(0);

  /** What is held and the piece behind it in one stretch, valid until the next call. */
  join(piece: Uint8Array): Uint8Array {
    if (this.length === 0) return piece;
    const end = this.length + piece.length;
    if (end > this.#buffer.length) {
      const wider = new Uint8Array(Math.max(end, 2 * this.#buffer.length));
      wider.set(this.#buffer.subarray(0, this.length));
      this.#buffer = wider;
    }
    this.#buffer.set(piece, this.length);
    return this.#buffer.subarray(0, end);
  }

  /** Holds what of these bytes, as `join` gave them, stands from `from` on. */
  keep(bytes: Uint8Array, from: number): void {
    this.length = bytes.length - from;
    if (bytes.buffer === this.#buffer.buffer) {
      if (from > 0) this.#buffer.copyWithin(0, from, bytes.length);
      return;
    }
    if (this.length > this.#buffer.length) this.#buffer = new Uint8Array(2 * this.length);
    this.#buffer.set(bytes.subarray(from));
  }
}
