/**
 * A file in small pieces through one buffer that is used again: reading gigabytes leaves no heap of chunks behind. A browser whose
 * files cannot be read so hands on its own chunks, cut.
 */
export interface FilePieces {
  /** The next bytes, good until the next call; undefined at the end. */
  next(): Promise<Uint8Array | undefined>;
  cancel(): Promise<void>;
}

/** What is pushed at once: a view asked for meanwhile waits no longer than this takes. */
const PIECE_BYTES = 1 << 17;

export function filePieces(file: Blob): FilePieces {
  try {
    return intoOneBuffer(file.stream().getReader({ mode: 'byob' }));
  } catch {
    return cut(file.stream().getReader());
  }
}

function intoOneBuffer(reader: ReadableStreamBYOBReader): FilePieces {
  let buffer = new ArrayBuffer(PIECE_BYTES);
  return {
    async next() {
      const { done, value } = await reader.read(new Uint8Array(buffer));
      if (done || value === undefined) return undefined;
      buffer = value.buffer;
      return value;
    },
    cancel: () => reader.cancel(),
  };
}

function cut(reader: ReadableStreamDefaultReader<Uint8Array>): FilePieces {
  let rest = new Uint8Array(0);
  return {
    async next() {
      while (rest.length === 0) {
        const { done, value } = await reader.read();
        if (done) return undefined;
        rest = Uint8Array.from(value);
      }
      const piece = rest.subarray(0, PIECE_BYTES);
      rest = rest.subarray(PIECE_BYTES);
      return piece;
    },
    cancel: () => reader.cancel(),
  };
}
