import { sidePicture } from '../../evidence/queue/side-picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import type { Span } from '../decimate.ts';
import { UnderTrace } from './under-trace.tsx';

/** Phases of the method and the traces of pressure and flow under the level, over the same span; nothing where there are none. */
export function SideTrace({ reading, span }: { reading: RunReading; span: Span }) {
  if (!reading.method && !reading.traces) return null;
  return <UnderTrace draw={(width) => sidePicture(reading, { from_s: span.from, to_s: span.to }, width)} />;
}
