/** A picture under the trace of a run, as wide as the trace. */
import type { Picture } from '../../evidence/queue/picture.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { useWidth } from '../use-width.ts';

/** A frame narrower than this is not laid out yet [px]. */
const LEAST_WIDTH = 100;
/** The frame around the picture [px]. */
const BORDERS_PX = 2;

export function UnderTrace({ draw }: { draw: (width: number) => Picture | undefined }) {
  const { ref, width } = useWidth();
  const picture = width > LEAST_WIDTH ? draw(Math.round(width) - BORDERS_PX) : undefined;
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
