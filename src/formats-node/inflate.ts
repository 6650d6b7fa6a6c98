/** zlib of Node for the pure readers. */
import { inflateSync } from 'node:zlib';
import type { Inflate } from '../formats/run-record.ts';

export const inflate: Inflate = (bytes, maxBytes) =>
  inflateSync(bytes, { maxOutputLength: Math.max(1, maxBytes) });
