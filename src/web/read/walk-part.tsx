/** A run during which somebody walked the voltage: the steps are typed or chosen, onset and window edges are read off. */
import { Button, NativeSelect, Textarea } from '@mantine/core';
import { useId, useState } from 'react';
import { InputError } from '../../core/errors.ts';
import { pictureSvg } from '../../evidence/queue/picture.ts';
import { walkPicture } from '../../evidence/queue/walk-picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import { readWalk, type WalkReading } from '../../evidence/walk.ts';
import { walkCsv } from '../../evidence/walk-out.ts';
import { stepsFrom } from '../../evidence/walk-steps.ts';
import { PictureView } from '../queue/picture-view.tsx';
import { saveText } from '../save.ts';

const EMPTY = 'time_min,voltage_V\n';
const WIDE = 900;
const places = [
  { value: 'not stated', label: 'not stated' },
  { value: 'supply', label: 'at the supply' },
  { value: 'tip', label: 'at the tip' },
] as const;

type Found = { kind: 'none' } | { kind: 'fault'; said: string[] } | { kind: 'read'; walk: WalkReading };

export function WalkPart({ reading, name }: { reading: RunReading; name: string }) {
  const file = useId();
  const [text, setText] = useState(EMPTY);
  const [place, setPlace] = useState<WalkReading['voltage_at']>('not stated');
  const [found, setFound] = useState<Found>({ kind: 'none' });
  const read = (table: string, at: WalkReading['voltage_at']) => setFound(walkFrom(reading, table, at));
  return (
    <details className="section">
      <summary>Was the voltage walked during this run? Its steps give onset and edges</summary>
      <p>
        One line for each step: the minute of the run at which the voltage was set, and the volts. The steps
        may stand in a CSV file with the columns time_min and voltage_V.
      </p>
      <label htmlFor={file}>Choose a step table </label>
      <input
        id={file}
        type="file"
        accept=".csv,.tsv,.txt"
        onChange={async (event) => {
          const chosen = event.currentTarget.files?.[0];
          if (!chosen) return;
          const table = await chosen.text();
          setText(table);
          read(table, place);
        }}
      />
      <Textarea
        label="Steps"
        value={text}
        autosize
        minRows={5}
        maxRows={14}
        maw={420}
        mt="sm"
        styles={{ input: { fontFamily: 'monospace' } }}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <div className="row" style={{ alignItems: 'flex-end', margin: '0.75rem 0' }}>
        <NativeSelect
          label="Where the voltage was measured"
          value={place}
          data={places.map((one) => ({ ...one }))}
          onChange={(event) => {
            const next = event.currentTarget.value as WalkReading['voltage_at'];
            setPlace(next);
            if (found.kind === 'read') read(text, next);
          }}
        />
        <Button onClick={() => read(text, place)}>Read the walk</Button>
      </div>
      <div role="status">
        {found.kind === 'fault' &&
          found.said.map((line) => (
            <p key={line} className="fault">
              {line}
            </p>
          ))}
        {found.kind === 'read' && <Walk walk={found.walk} name={name} />}
      </div>
      <p className="soft">
        A raise of the voltage is a person's choice each time: hands clear of the source, small steps, by the
        rules of your lab. Before touching the tip: voltage off, read back 0 V, wait, ground.
      </p>
    </details>
  );
}

function Walk({ walk, name }: { walk: WalkReading; name: string }) {
  const sentences = walk.sweeps.flatMap((sweep) => sweep.sentences);
  const picture = walkPicture(walk, WIDE);
  return (
    <>
      {sentences.map((line) => (
        <p key={line}>
          <strong>{line}</strong>
        </p>
      ))}
      {walk.warnings.map((line) => (
        <p key={line}>Warning: {line}.</p>
      ))}
      {walk.sweeps.length > 0 && (
        <>
          <div style={{ overflowX: 'auto' }}>
            <PictureView picture={picture} />
          </div>
          <div className="row">
            <Button onClick={() => saveText(`${name}-walk.csv`, 'text/csv;charset=utf-8', walkCsv(walk))}>
              Walk as CSV
            </Button>
            <Button
              variant="default"
              onClick={() => saveText(`${name}-walk.svg`, 'image/svg+xml', pictureSvg(picture))}
            >
              Walk as SVG
            </Button>
          </div>
        </>
      )}
    </>
  );
}

function walkFrom(reading: RunReading, table: string, at: WalkReading['voltage_at']): Found {
  try {
    return { kind: 'read', walk: readWalk(reading, stepsFrom(table, 'step table'), at) };
  } catch (trouble) {
    if (!(trouble instanceof InputError)) throw trouble;
    return { kind: 'fault', said: trouble.message.split('\n') };
  }
}
