import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import type { Explained } from '../../evidence/explain/explain-run.ts';
import { benchItems, queueLabels } from '../api.ts';
import { whenText } from '../words.ts';
import type { ExplainState } from './explain-address.ts';

const LISTED = 60;

/** What the explanation rests on beside answers: a reading, the emitter's earlier runs, a set-up; all from the bench. */
export function SourcesPart(props: {
  state: ExplainState;
  explained: Explained | undefined;
  onChange: (state: ExplainState) => void;
}) {
  const { state, explained, onChange } = props;
  const readings = useQuery({ queryKey: ['bench', 'reading', ''], queryFn: () => benchItems('reading', '') });
  const setups = useQuery({ queryKey: ['bench', 'setup', ''], queryFn: () => benchItems('setup', '') });
  const queues = useQuery({ queryKey: ['queues'], queryFn: queueLabels });
  const list = (
    items: { id: string; title: string; when: string; invented: boolean }[] | undefined,
    chosen?: string,
  ) => {
    const options = (items ?? []).slice(0, LISTED).map(({ id, title, when, invented }) => ({
      value: id,
      label: `${invented ? '[invented] ' : ''}${id}, ${whenText(when)}: ${title.slice(0, 70)}`,
    }));
    if (chosen !== undefined && !options.some(({ value }) => value === chosen))
      options.unshift({ value: chosen, label: chosen });
    return [{ value: '', label: 'none' }, ...options];
  };
  const labels = (queues.data?.queues ?? []).map(({ label }) => ({ value: label, label }));
  return (
    <section className="section" aria-labelledby="sources">
      <h2 id="sources">What it rests on</h2>
      <div className="fields" style={{ maxWidth: '60rem' }}>
        <NativeSelect
          label="Reading of a run"
          value={state.reading ?? ''}
          data={list(readings.data?.items, state.reading)}
          onChange={(event) => onChange({ ...state, reading: event.currentTarget.value || undefined })}
        />
        <NativeSelect
          label="Set-up"
          value={state.setup ?? ''}
          data={list(setups.data?.items, state.setup)}
          onChange={(event) => onChange({ ...state, setup: event.currentTarget.value || undefined })}
        />
        <NativeSelect
          label="Earlier runs of this emitter"
          value={state.emitter ?? ''}
          data={[{ value: '', label: 'the queue that holds the run' }, ...labels]}
          onChange={(event) => onChange({ ...state, emitter: event.currentTarget.value || undefined })}
        />
      </div>
      {explained?.emitter != null && (
        <p>
          Compared with {explained.earlier_runs} earlier {explained.earlier_runs === 1 ? 'run' : 'runs'} of{' '}
          {explained.emitter}.
        </p>
      )}
      {explained && explained.missing.length > 0 && (
        <>
          <h3>What is missing</h3>
          <ul>
            {explained.missing.map(({ sentence }) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
