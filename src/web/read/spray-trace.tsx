import { sprayPicture } from '../../evidence/queue/spray-picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import type { Span } from '../decimate.ts';
import { UnderTrace } from './under-trace.tsx';

/** The spray factor of a group over the span that the trace above shows; nothing where it was not followed. */
export function SprayTrace({ reading, group, span }: { reading: RunReading; group: number; span: Span }) {
  const shown = reading.groups[group];
  if (!shown?.spray) return null;
  return <UnderTrace draw={(width) => sprayPicture(shown, { from_s: span.from, to_s: span.to }, width)} />;
}
