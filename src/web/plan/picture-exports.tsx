/** The pictures and what lies under them, as files. Nothing is saved while a picture is not of the values on the page. */

import { Button } from '@mantine/core';
import { memo, type RefObject } from 'react';
import type { Plan } from '../../core/plan/plan.ts';
import { planCsv } from '../../core/plan/plan-csv.ts';
import type { Setup } from '../../core/setup.ts';
import { pictureText, saveJson, saveText } from '../save.ts';
import type { SetupDraft } from './draft.ts';
import { curveCsv, gapCsv, outlineCsv } from './picture-data.ts';
import type { TipPicture } from './tip-picture.ts';

/** What is shown at the moment a file is asked for. */
export interface Shown {
  plan: Plan;
  setup: Setup;
  tip: TipPicture;
  volts: number;
  onset_V: number;
}

export interface PictureExportsProps {
  isReady: boolean;
  /** Read when a button is pressed, so that a dragged voltage redraws no button. */
  shown: RefObject<Shown | undefined>;
  draft: SetupDraft;
  views: RefObject<HTMLElement | null>;
}

export const PictureExports = memo(function PictureExports(props: PictureExportsProps) {
  const { isReady, shown, draft, views } = props;
  const csv = (name: string, label: string, text: (from: Shown) => string) => (
    <Button
      variant="default"
      disabled={!isReady}
      onClick={() => shown.current && saveText(`steadycone-${name}.csv`, 'text/csv', text(shown.current))}
    >
      {label}
    </Button>
  );
  return (
    <div className="row">
      <Button
        variant="default"
        disabled={!isReady}
        onClick={() =>
          saveText(
            'steadycone-picture.svg',
            'image/svg+xml',
            pictureText(
              [...(views.current?.querySelectorAll<SVGSVGElement>('svg[data-view]') ?? [])],
              'Gap, tip and apex curve',
            ),
          )
        }
      >
        Picture as SVG
      </Button>
      {csv('gap', 'Gap as CSV', ({ setup }) => gapCsv(setup))}
      {csv('outline', 'Outline as CSV', ({ tip, volts }) => outlineCsv(tip, volts))}
      {csv('apex-curve', 'Apex curve as CSV', ({ plan, onset_V }) => curveCsv(plan, onset_V))}
      {csv('numbers', 'Numbers as CSV', ({ plan }) => planCsv(plan))}
      <Button variant="default" onClick={() => saveJson('steadycone-setup.json', draft)}>
        Set-up as JSON
      </Button>
    </div>
  );
});
