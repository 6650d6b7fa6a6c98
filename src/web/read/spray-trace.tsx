import { sprayPicture } from '../../evidence/queue/spray-picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import type { Span } from '../decimate.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { useWidth } from '../use-width.ts';

/** The spray factor of a group over the span that the trace above shows; nothing where it was not followed. */
export function SprayTrace(props: { reading: RunReading; group: number; span: Span }) {
  const { ref, width } = useWidth();
  const group = props.reading.groups[props.group];
  if (!group?.spray) return null;
  const span = { from_s: props.span.from, to_s: props.span.to };
  const picture = width > 100 ? sprayPicture(group, span, Math.round(width)) : undefined;
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
