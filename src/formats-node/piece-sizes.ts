/** What the bytes of a file in pieces are to their reader, and how long a piece is. */
export interface Pieces extends AsyncIterable<Uint8Array> {
  /** So many bytes before each piece in its buffer may be written. */
  readonly room: number;
  /** Of all pieces, hexadecimal; known once the last one was taken. */
  sha256(): string;
}

export const PIECE_BYTES = 2 ** 20;
/** Holds what is left of a spectrum cut by the end of a piece; a longer rest is moved elsewhere. */
export const ROOM_BYTES = 2 ** 17;
export const SLOT_BYTES = ROOM_BYTES + PIECE_BYTES;
