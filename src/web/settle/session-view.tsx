/** One session: the section in the middle, the next step in one sentence, what was read, the working point. */
import { Button } from '@mantine/core';
import type { SettleOpen } from '../../contract/index.ts';
import { pictureSvg, stacked } from '../../core/picture.ts';
import {
  type Advice,
  type SettleSession,
  sectionPicture,
  voltagePicture,
} from '../../core/settling/index.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { saveText } from '../save.ts';
import { useWidth } from '../use-width.ts';
import { AdvicePart } from './advice-part.tsx';
import { BestPart } from './best-part.tsx';
import { History } from './history.tsx';
import { ProvePart } from './prove-part.tsx';

const WIDEST = 960;

export function SessionView({ open, onNext }: { open: SettleOpen; onNext: (next: SettleOpen) => void }) {
  const { id, session, advice } = open;
  return (
    <>
      {open.warnings.map((line) => (
        <p key={line} className="fault">
          {line}
        </p>
      ))}
      {open.because !== null && <p className="next">{open.because}</p>}
      <div className="settle-now">
        <SettlePictures session={session} advice={advice} name={id} />
        <AdvicePart key={session.readings.length} open={open} onNext={onNext} />
      </div>
      {advice.best && <BestPart id={id} best={advice.best} session={session} />}
      <ProvePart open={open} onNext={onNext} />
      <History session={session} advice={advice} name={id} />
    </>
  );
}

function SettlePictures({ session, advice, name }: { session: SettleSession; advice: Advice; name: string }) {
  const { ref, width } = useWidth();
  const wide = Math.max(320, Math.min(width, WIDEST));
  const pictures = [
    sectionPicture(session, advice, wide),
    ...(session.axes.lateral_y_mm ? [sectionPicture(session, advice, wide, 'lateral_y_mm')] : []),
    voltagePicture(session, advice, wide),
  ];
  return (
    <div ref={ref}>
      {width > 0 && pictures.map((picture) => <PictureView key={picture.title} picture={picture} />)}
      <Button
        variant="default"
        onClick={() =>
          saveText(
            `${name}.svg`,
            'image/svg+xml',
            pictureSvg(
              stacked(
                session.name ?? name,
                pictures.map((picture) => ({ heading: '', picture })),
              ),
            ),
          )
        }
      >
        Picture as SVG
      </Button>
      <p className="soft">
        Circles: readings; crosses: unsteady; open squares on end: not learned from. Dashed: where the tip
        goes next.
      </p>
    </div>
  );
}
