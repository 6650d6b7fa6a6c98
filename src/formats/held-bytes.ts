/** Bytes that wait for those behind them, in one buffer that is used again and again. */
export class HeldBytes {
  length = 0;
  #buffer = new Uint8Array(0);

  /**
   * What is held and the piece behind it in one stretch, valid until the next call. `room` bytes before the piece in its own
   * buffer may be written: what is held goes there where it fits, so that the piece need not be moved.
   */
  join(piece: Uint8Array, room = 0): Uint8Array {
    if (this.length === 0) return piece;
    if (this.length <= room) {
      const both = new Uint8Array(piece.buffer, piece.byteOffset - this.length, this.length + piece.length);
      both.set(this.#buffer.subarray(0, this.length));
      return both;
    }
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
