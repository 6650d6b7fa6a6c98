/**
 * When a run began, as its file says: `startTimeStamp` of mzML's run. Looked for in the first megabyte, where every writer
 * puts it; mzXML has no such field. A stamp without a zone is taken as this computer's local time.
 */
import { open } from 'node:fs/promises';
import { constants, gunzipSync } from 'node:zlib';

const HEAD_BYTES = 1 << 20;
const UNPACKED_BYTES = 1 << 22;

/** ISO 8601 in UTC, or null. Never throws: a file without a start is as good as any. */
export async function runStart(path: string): Promise<string | null> {
  try {
    const file = await open(path, 'r');
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
      return runStartIn(buffer.subarray(0, bytesRead));
    } finally {
      await file.close();
    }
  } catch {
    return null;
  }
}

export function runStartIn(head: Buffer): string | null {
  const text = unpacked(head).toString('latin1');
  const stamp = /<(?:\w+:)?run\b[^>]*?\sstartTimeStamp\s*=\s*["']([^"'<>]{10,40})["']/.exec(text)?.[1];
  if (stamp === undefined) return null;
  const moment = Date.parse(stamp.trim());
  return Number.isNaN(moment) ? null : new Date(moment).toISOString();
}

function unpacked(head: Buffer): Buffer {
  if (head[0] !== 0x1f || head[1] !== 0x8b) return head;
  try {
    return gunzipSync(head, { finishFlush: constants.Z_SYNC_FLUSH, maxOutputLength: UNPACKED_BYTES });
  } catch {
    return Buffer.alloc(0);
  }
}
