import { sidePicture } from '../../evidence/queue/side-picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import type { Span } from '../decimate.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { useWidth } from '../use-width.ts';

/** Phases of the method and the traces of pressure and flow under the level, over the same span; nothing where there are none. */
export function SideTrace({ reading, span }: { reading: RunReading; span: Span }) {
  const { ref, width } = useWidth();
  const picture =
    width > 100 ? sidePicture(reading, { from_s: span.from, to_s: span.to }, Math.round(width)) : undefined;
  if (!reading.method && !reading.traces) return null;
  return (
    <div ref={ref} style={{ marginTop: '0.75rem' }}>
      {picture && (
        <div className="trace">
          <PictureView picture={picture} />
        </div>
      )}
    </div>
  );
}
