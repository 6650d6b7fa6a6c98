/**
 * Gunzips a stream into a sink, keeping every byte that comes out before a fault. The engine drops what it holds when it meets
 * damaged data, so it is fed in slices and made to give all of each: damage costs at most the text of one slice, a part in
 * 64 of what stood before it. A cut stream is flushed, not refused: where the document breaks off tells the reader more than the
 * missing end of the gzip data. Zeros behind the data are padding; anything else there is told.
 */
import { constants, createGunzip } from 'node:zlib';

export interface Unpacker {
  push(chunk: Uint8Array): Promise<void>;
  /** Resolves to what went wrong, if anything. */
  end(): Promise<string | undefined>;
  close(): void;
  /** Bytes of the file after which, within one slice, something begins that is no gzip data; undefined where nothing does. */
  readonly surplusFrom: number | undefined;
}

const UNPACKED_CHUNK_BYTES = 1 << 18;
const SHORTEST_SLICE = 2 ** 8;
const LONGEST_SLICE = 2 ** 16;
const SHARE = 64;
/** What the engine says where another member should begin; the first one was recognised before. */
const NO_MEMBER = 'incorrect header check';
const WRONG_SUM = 'incorrect data check';
const UNSURE = 'the gzip data do not fit their checksum, so any row may be damaged';

/** `sink` answers whether it wants more. */
export function gunzipInto(sink: (piece: Uint8Array) => boolean): Unpacker {
  const gunzip = createGunzip({
    chunkSize: UNPACKED_CHUNK_BYTES,
    flush: constants.Z_SYNC_FLUSH,
    finishFlush: constants.Z_SYNC_FLUSH,
  });
  let failure: string | undefined;
  let refusal: unknown;
  let wanted = true;
  let ended = false;
  let fed = 0;
  let surplusFrom: number | undefined;
  let wake: (() => void) | undefined;
  const settle = () => {
    const waiting = wake;
    wake = undefined;
    waiting?.();
  };
  gunzip.on('data', (piece: Uint8Array) => {
    if (refusal !== undefined || !wanted) return;
    try {
      wanted = sink(piece);
    } catch (error) {
      refusal = error;
    }
  });
  gunzip.on('error', ({ message }) => {
    ended = true;
    if (message === NO_MEMBER) surplusFrom = fed;
    else failure = message === WRONG_SUM ? UNSURE : 'the gzip data are damaged';
    settle();
  });
  // After bytes that are no further gzip member the stream ends by itself and answers no more writes.
  gunzip.on('end', () => {
    ended = true;
    settle();
  });
  const check = () => {
    if (refusal !== undefined) throw refusal;
  };
  return {
    get surplusFrom() {
      return surplusFrom;
    },
    async push(chunk) {
      for (let at = 0; at < chunk.length; ) {
        check();
        if (ended || !wanted) {
          if (!ended || failure !== undefined || surplusFrom !== undefined) return;
          if (chunk.subarray(at).some((byte) => byte !== 0)) surplusFrom = fed;
          else fed += chunk.length - at;
          return;
        }
        const length = Math.min(LONGEST_SLICE, Math.max(SHORTEST_SLICE, Math.floor(fed / SHARE)));
        const slice = chunk.subarray(at, at + length);
        await new Promise<void>((resolve) => {
          wake = resolve;
          // Where it fails the event of the error follows.
          gunzip.write(slice, (error) => error ?? settle());
        });
        if (failure === undefined && surplusFrom === undefined) fed += slice.length;
        at += slice.length;
      }
      check();
    },
    async end() {
      check();
      if (!ended && wanted) {
        await new Promise<void>((resolve) => {
          wake = resolve;
          gunzip.end();
        });
      }
      check();
      return failure;
    },
    close() {
      gunzip.destroy();
    },
  };
}
