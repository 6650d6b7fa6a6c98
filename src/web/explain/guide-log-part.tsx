import { Button } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { WhoField } from '../who-field.tsx';
import { keepLog } from './explain-api.ts';

/** What was done so far, and the ways to keep it: as notes on the reading, or as the printed guide. */
export function GuideLog(props: {
  lines: readonly string[];
  reading: string | undefined;
  onEmpty: () => void;
  onSave: () => void;
}) {
  const { lines, reading } = props;
  const [who, setWho] = useState('');
  const queries = useQueryClient();
  const keep = useMutation({
    mutationFn: () => keepLog(reading ?? '', lines, who.trim()),
    onSuccess: async () => {
      props.onEmpty();
      await queries.invalidateQueries({ queryKey: ['bench'] });
    },
  });
  return (
    <section className="section" aria-labelledby="log">
      <h2 id="log">What was done</h2>
      {lines.length === 0 ? (
        <p>{keep.isSuccess ? `Kept with ${reading}.` : 'Nothing yet.'}</p>
      ) : (
        <ol>
          {lines.map((line, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: the log only grows
            <li key={i}>{line}</li>
          ))}
        </ol>
      )}
      {keep.isError && <p className="fault">Not kept: {keep.error.message}</p>}
      <div className="row" style={{ alignItems: 'flex-end' }}>
        {lines.length > 0 && reading !== undefined && (
          <>
            <WhoField value={who} onChange={setWho} maw={320} />
            <Button loading={keep.isPending} onClick={() => keep.mutate()}>
              Keep with {reading}
            </Button>
          </>
        )}
        <Button variant="default" onClick={props.onSave}>
          Guide and log as HTML
        </Button>
        {lines.length > 0 && (
          <Button variant="default" onClick={props.onEmpty}>
            Empty the log
          </Button>
        )}
      </div>
    </section>
  );
}
