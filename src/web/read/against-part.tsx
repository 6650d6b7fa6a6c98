/**
 * A reading held against good runs of the same method: chosen among the readings of the bench, or a file that is read now and
 * kept. The choice stands in the address (`?against=reading-3,reading-5`); numbers and words are those of the command line.
 */
import { Button, NativeSelect } from '@mantine/core';
import { useQueries, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import { againstCsv, againstEventText, readAgainst } from '../../evidence/against/index.ts';
import { againstPicture } from '../../evidence/queue/against-picture.ts';
import { pictureSvg } from '../../evidence/queue/picture.ts';
import type { RunReading } from '../../evidence/run-reading.ts';
import { benchEntry, benchItems, keepRun } from '../api.ts';
import type { Span } from '../decimate.ts';
import { saidBy } from '../said-by.ts';
import { saveText } from '../save.ts';
import { Sentences } from '../sentences.tsx';
import { readingOf } from './older.ts';
import { UnderTrace } from './under-trace.tsx';

const PARAMETER = 'against';
const WIDE = 1000;

export function AgainstPart({ id, reading }: { id: string | undefined; reading: RunReading }) {
  const [path, go] = useLocation();
  const asked = new URLSearchParams(useSearch()).get(PARAMETER) ?? '';
  const chosen = asked.split(',').filter((one) => one !== '');
  const choose = (ids: readonly string[]) =>
    go(ids.length === 0 ? path : `${path}?${PARAMETER}=${ids.join(',')}`, { replace: true });
  return (
    <section className="section" aria-label="Against good runs">
      <h2>Against good runs</h2>
      <p>
        The ratio to a good run of the same method stays flat, whatever elutes. A step, a clog or a loss bends
        it; another load or position does not.
      </p>
      <Chooser id={id} chosen={chosen} onChosen={choose} />
      {chosen.length > 0 && <Held reading={reading} id={id} chosen={chosen} />}
    </section>
  );
}

function Chooser({
  id,
  chosen,
  onChosen,
}: {
  id: string | undefined;
  chosen: readonly string[];
  onChosen: (ids: readonly string[]) => void;
}) {
  const names = useNames();
  const file = useId();
  const queries = useQueryClient();
  const [said, setSaid] = useState<{ words: string; fault: boolean } | undefined>();
  const free = names.filter((one) => one.id !== id && !chosen.includes(one.id));
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);
  const add = async (run: File) => {
    running.current?.abort();
    running.current = new AbortController();
    setSaid({ words: `Reading ${run.name}.`, fault: false });
    try {
      const asked = { who: '', setup: '', mask: '' };
      const kept = await keepRun(run, asked, {
        onSent: (sent, total) =>
          setSaid({
            words: `Reading ${run.name}: ${Math.floor((100 * sent) / Math.max(1, total))} % sent.`,
            fault: false,
          }),
        signal: running.current.signal,
      });
      if (kept.reading_id === undefined) {
        setSaid({ words: `Not kept, so it cannot serve: ${kept.not_kept}`, fault: true });
        return;
      }
      await queries.invalidateQueries({ queryKey: ['bench'] });
      setSaid(undefined);
      onChosen([...chosen.filter((one) => one !== kept.reading_id), kept.reading_id]);
    } catch (trouble) {
      if (trouble instanceof DOMException && trouble.name === 'AbortError') return;
      setSaid({ words: `Not read: ${saidBy(trouble)}`, fault: true });
    }
  };
  return (
    <>
      <NativeSelect
        label="A good run of the same method"
        description="Two or more tell which run changed."
        maw={520}
        value=""
        data={[
          { value: '', label: free.length === 0 ? 'no other reading on the bench' : 'choose a reading' },
          ...free.map((one) => ({ value: one.id, label: one.name })),
        ]}
        onChange={(event) => {
          const next = event.currentTarget.value;
          if (next !== '') onChosen([...chosen, next]);
        }}
      />
      <p className="load">
        <label htmlFor={file}>or a run file, read now and kept </label>
        <input
          id={file}
          type="file"
          accept=".mzML,.mzml,.mzXML,.mzxml,.gz"
          onChange={(event) => {
            const run = event.currentTarget.files?.[0];
            if (run) void add(run);
          }}
        />
      </p>
      <p role="status" className={said?.fault ? 'fault' : undefined}>
        {said?.words}
      </p>
      {chosen.length > 0 && (
        <ul>
          {chosen.map((one) => (
            <li key={one}>
              {names.find((known) => known.id === one)?.name ?? one}{' '}
              <Button
                variant="default"
                aria-label={`Leave out ${one}`}
                onClick={() => onChosen(chosen.filter((other) => other !== one))}
              >
                Leave out
              </Button>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

/** Readings of the bench under the names of their files, the newest first. */
function useNames(): { id: string; name: string }[] {
  const readings = useQuery({ queryKey: ['bench', 'reading', ''], queryFn: () => benchItems('reading', '') });
  const runs = useQuery({ queryKey: ['bench', 'run', ''], queryFn: () => benchItems('run', '') });
  return useMemo(() => {
    const files = new Map(runs.data?.items.map(({ id, title }) => [id, title]));
    return (readings.data?.items ?? []).map(({ id, on }) => ({
      id,
      name: `${files.get(on ?? '') ?? 'a run'} (${id})`,
    }));
  }, [readings.data, runs.data]);
}

function Held({
  reading,
  id,
  chosen,
}: {
  reading: RunReading;
  id: string | undefined;
  chosen: readonly string[];
}) {
  const entries = useQueries({
    queries: chosen.map((one) => ({
      queryKey: ['bench', 'entry', one],
      queryFn: () => benchEntry(one),
      staleTime: Number.POSITIVE_INFINITY,
    })),
  });
  const waiting = entries.some((entry) => entry.isPending);
  const fault = entries.find((entry) => entry.isError)?.error;
  const stamp = entries.map((entry) => entry.dataUpdatedAt).join();
  // biome-ignore lint/correctness/useExhaustiveDependencies: the entries are new in every render, their stamp tells when they changed
  const against = useMemo(() => {
    if (waiting || fault) return undefined;
    const runs = entries.flatMap((entry, i) => {
      const good = readingOf(entry.data?.document);
      const file = entry.data?.related.find(({ kind }) => kind === 'run')?.title ?? chosen[i]!;
      return good ? [{ name: `${file} (${chosen[i]})`, reading: good }] : [];
    });
    return runs.length === 0 ? undefined : readAgainst(reading, runs);
  }, [reading, stamp, waiting, fault]);
  if (waiting) return <p role="status">Fetching the good runs.</p>;
  if (fault) return <p className="fault">{fault.message}</p>;
  if (!against) return <p className="fault">What was chosen is no reading of a run.</p>;
  const group = reading.groups[reading.main_group];
  const span: Span = { from: group?.start_s ?? 0, to: group?.end_s ?? 1 };
  const draw = (width: number) => againstPicture(against, { from_s: span.from, to_s: span.to }, width);
  const name = `${id ?? 'reading'}-against-${chosen.join('-')}`;
  return (
    <>
      <UnderTrace draw={draw} />
      <Sentences title="What the ratio tells" lines={against.sentences} />
      <Sentences
        title={`Events by the ratio: ${against.events.length}`}
        lines={against.events.map(againstEventText)}
      />
      <Sentences title="What this comparison cannot decide" lines={against.undecided} />
      {against.series && (
        <div className="row">
          <Button
            variant="default"
            onClick={() => saveText(`${name}.csv`, 'text/csv;charset=utf-8', againstCsv(against))}
          >
            Ratio as CSV
          </Button>
          <Button
            variant="default"
            onClick={() => {
              const picture = draw(WIDE);
              if (picture) saveText(`${name}.svg`, 'image/svg+xml', pictureSvg(picture));
            }}
          >
            Ratio as SVG
          </Button>
          {id !== undefined && (
            <Button
              component="a"
              variant="default"
              href={`/api/readings/${encodeURIComponent(id)}.html?${PARAMETER}=${chosen.join(',')}`}
              download={`${name}.html`}
            >
              Report with it as HTML
            </Button>
          )}
        </div>
      )}
    </>
  );
}
