/** A flow walk as read: exponent, coefficient and conductivity with their ranges, and the points with the fit. */
import { Button } from '@mantine/core';
import { memo } from 'react';
import { pictureSvg } from '../../core/picture.ts';
import { type FlowWalk, flowPicture, flowWalkCsv } from '../../evidence/current/index.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { saveText } from '../save.ts';
import { useWidth } from '../use-width.ts';
import { figure } from '../words.ts';
import { WalkWords } from './walk-words.tsx';

const WIDEST = 760;
const FILE_WIDTH = 900;

export interface FlowWalkPartProps {
  name: string;
  walk: FlowWalk;
}

/** Its picture is laid out again only for another walk, not while somebody types. */
export const FlowWalkPart = memo(function FlowWalkPart({ name, walk }: FlowWalkPartProps) {
  const { ref, width } = useWidth();
  const short = name.replace(/\.[^.]*$/, '');
  const { exponent, coefficient_nA, conductivity_S_m } = walk;
  const range = ({ low, high }: { low: number; high: number }) => `${figure(low)} to ${figure(high)}`;
  return (
    <div ref={ref} data-walk="flow">
      <WalkWords walk={walk} />
      <dl className="keys">
        {exponent && (
          <div>
            <dt>Exponent of I against Q</dt>
            <dd className="big">{figure(exponent.value, 2)}</dd>
            <dd>{range(exponent)}, 95 %; a steady cone-jet has 0.4 to 0.55</dd>
          </div>
        )}
        {coefficient_nA && (
          <div>
            <dt>Current at 1 nL/min by the fit</dt>
            <dd className="big">{figure(coefficient_nA.value)} nA</dd>
            <dd>{range(coefficient_nA)} nA, 95 %</dd>
          </div>
        )}
        {conductivity_S_m && (
          <div>
            <dt>Conductivity it implies</dt>
            <dd className="big">{figure(conductivity_S_m.value)} S/m</dd>
            <dd>
              {range(conductivity_S_m)} S/m
              {conductivity_S_m.valid ? '' : '; doubtful: the exponent does not fit'}
            </dd>
          </div>
        )}
      </dl>
      {width > 0 && <PictureView picture={flowPicture(walk, Math.max(300, Math.min(width, WIDEST)))} />}
      <div className="row">
        <Button
          variant="default"
          onClick={() => saveText(`${short}-flow-walk.csv`, 'text/csv;charset=utf-8', flowWalkCsv(walk))}
        >
          Flow walk as CSV
        </Button>
        <Button
          variant="default"
          onClick={() =>
            saveText(`${short}-flow-walk.svg`, 'image/svg+xml', pictureSvg(flowPicture(walk, FILE_WIDTH)))
          }
        >
          Flow walk as SVG
        </Button>
      </div>
    </div>
  );
});
