/** After settling: a run or a trace read at the working point, held against the reading that led here; then the point is kept. */
import { Button, TextInput } from '@mantine/core';
import { useState } from 'react';
import { Link } from 'wouter';
import type { SettleOpen } from '../../contract/index.ts';
import { pointWords } from '../../core/settling/index.ts';
import { FileField } from '../file-field.tsx';
import { Upload } from '../read/upload.tsx';
import { saidBy } from '../said-by.ts';
import { WhoField } from '../who-field.tsx';
import { keepPoint, prove } from './settle-api.ts';
import { traceFiguresOf } from './trace-figures.ts';

export interface ProvePartProps {
  open: SettleOpen;
  onNext: (next: SettleOpen) => void;
}

export function ProvePart({ open, onNext }: ProvePartProps) {
  const { session, advice, proofs } = open;
  const [fault, setFault] = useState('');
  const [reading, setReading] = useState('');
  const { best } = advice;
  if (best === undefined) return null;
  const link = async (work: () => Promise<object>) => {
    try {
      onNext(await prove(open.id, await work()));
      setFault('');
    } catch (trouble) {
      setFault(saidBy(trouble));
    }
  };
  return (
    <section className="section" aria-label="The reading that proves it">
      <h2>{advice.kind === 'done' ? 'Settled: now prove it' : 'Prove it'}</h2>
      <p>
        Set {pointWords(session, best.at)}, let it run for ten minutes, and read that run or a current trace
        here. {proofs.length === 0 && 'Until then the working point is an expectation, not a result.'}
      </p>
      <ol aria-label="Proofs so far" aria-live="polite">
        {proofs.map(({ sentence, reading_id }) => (
          <li key={sentence}>
            {sentence}{' '}
            {reading_id && (
              <Link className="target" href={`/read/${reading_id}`}>
                {reading_id}
              </Link>
            )}
          </li>
        ))}
      </ol>
      <Upload
        onKept={({ reading_id, not_kept }) =>
          void link(async () => {
            if (reading_id === undefined)
              throw new Error(`The run was not kept: ${not_kept ?? 'no reason given'}`);
            return { reading_id };
          })
        }
      />
      <details>
        <summary>A current trace, or a reading that is kept already</summary>
        <FileField
          label="Choose a current trace; only its mean, scatter and regime are kept"
          onFile={(file) => void link(() => traceFiguresOf(file))}
        />
        <form
          className="row"
          style={{ alignItems: 'flex-end' }}
          onSubmit={(event) => {
            event.preventDefault();
            void link(async () => ({ reading_id: reading.trim() }));
          }}
        >
          <TextInput
            label="Reading on the bench"
            placeholder="reading-3"
            autoComplete="off"
            value={reading}
            onChange={(event) => setReading(event.currentTarget.value)}
          />
          <Button type="submit" variant="default">
            Link this reading
          </Button>
        </form>
      </details>
      <p role="alert" className="fault">
        {fault}
      </p>
      <KeepPart id={open.id} proven={proofs.length > 0} />
    </section>
  );
}

function KeepPart({ id, proven }: { id: string; proven: boolean }) {
  const [who, setWho] = useState('');
  const [kept, setKept] = useState<{ id: string; title: string }>();
  const [fault, setFault] = useState('');
  const keep = async () => {
    try {
      setKept((await keepPoint(id, who.trim())).item);
      setFault('');
    } catch (trouble) {
      setFault(saidBy(trouble));
    }
  };
  return (
    <>
      <div className="row" style={{ alignItems: 'flex-end' }}>
        <WhoField value={who} onChange={setWho} maw={320} />
        <Button variant={proven ? 'filled' : 'default'} onClick={() => void keep()}>
          Keep the working point on the bench
        </Button>
      </div>
      <p role="status">
        {kept && (
          <>
            Kept as{' '}
            <Link className="target" href={`/bench/${kept.id}`}>
              {kept.id}
            </Link>
            : {kept.title}
          </>
        )}
        {fault !== '' && <span className="fault">Not kept: {fault}</span>}
      </p>
    </>
  );
}
