/** Two set-ups side by side: the one on the page and one put aside or read from a file; their differences named. */
import { Button } from '@mantine/core';
import { memo, useCallback, useRef } from 'react';
import { InputError } from '../../core/errors.ts';
import type { Setup } from '../../core/setup.ts';
import { pictureText, saveText } from '../save.ts';
import { StackedTable } from '../stacked-table.tsx';
import { BesideTips } from './beside-tips.tsx';
import { type Difference, differences, differencesCsv, sideText } from './differences.ts';
import type { PlanDesk } from './plan-desk.ts';
import { SetupLoader } from './setup-loader.tsx';
import type { Planned } from './tip-picture.ts';

export interface CompareProps {
  now: Planned;
  /** `now` is not yet the answer to the values on the page. */
  stale: boolean;
  aside: Planned | undefined;
  onAside: (aside: Planned | undefined) => void;
  planOther: PlanDesk['planOther'];
}

export const Compare = memo(function Compare({ now, stale, aside, onAside, planOther }: CompareProps) {
  const tips = useRef<HTMLDivElement>(null);
  const rows = aside === undefined ? [] : differences(aside.plan, now.plan);
  const load = useCallback(
    async ({ setup }: { setup: Setup }) => {
      const answer = await planOther(setup);
      if ('plan' in answer) return onAside({ setup, plan: answer.plan, shapes: answer.shapes });
      throw new Error('faults' in answer ? new InputError(answer.faults).message : answer.trouble);
    },
    [planOther, onAside],
  );
  return (
    <div className="section" data-panel="compare">
      <h2>Compare</h2>
      {aside === undefined ? (
        <p>
          Put this set-up aside and change values, or load another set-up: both stand side by side, to one
          scale.
        </p>
      ) : (
        <>
          <div ref={tips}>
            <BesideTips now={now} stale={stale} aside={aside} />
          </div>
          <DifferenceTable rows={rows.filter(({ differs }) => differs)} />
        </>
      )}
      <div className="row" style={{ marginTop: '0.75rem' }}>
        <Button variant="default" disabled={stale} onClick={() => onAside(now)}>
          {aside === undefined ? 'Put this set-up aside' : 'Put this one aside instead'}
        </Button>
        {aside !== undefined && (
          <>
            <Button
              variant="default"
              disabled={stale}
              onClick={() =>
                saveText(
                  'steadycone-compared.svg',
                  'image/svg+xml',
                  pictureText(
                    [...(tips.current?.querySelectorAll<SVGSVGElement>('svg[data-view]') ?? [])],
                    'Two tips to one scale',
                  ),
                )
              }
            >
              Tips as SVG
            </Button>
            <Button
              variant="default"
              disabled={stale}
              onClick={() => saveText('steadycone-compared.csv', 'text/csv', differencesCsv(rows))}
            >
              Both sets of numbers as CSV
            </Button>
            <Button variant="default" onClick={() => onAside(undefined)}>
              End the comparison
            </Button>
          </>
        )}
      </div>
      <SetupLoader
        pasteLabel="Compare with another set-up (YAML or JSON)"
        fileLabel="Set-up file to compare with"
        buttonLabel="Compare with this text"
        onSetup={load}
      />
    </div>
  );
});

function DifferenceTable({ rows }: { rows: readonly Difference[] }) {
  if (rows.length === 0) return <p>No number differs by more than 1 %.</p>;
  return (
    <StackedTable
      name="differences"
      columns={['number', 'put aside', 'on the page', 'difference']}
      rows={rows.map(({ key, label, unit, other, now, words }) => ({
        key,
        cells: [label, sideText(other, unit, key), sideText(now, unit, key), words],
      }))}
    />
  );
}
