import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { Link, useSearch } from 'wouter';
import { queueLabels, queueOf } from '../api.ts';
import { count, whenText } from '../words.ts';
import { QueueView } from './queue-view.tsx';

/** A watched folder grows by a file every hour or so; the page asks as often as that is worth [ms]. */
const ASK_AGAIN_MS = 20_000;

export function QueuePage() {
  // In the query, since a label may hold any letter and a slash in a path would part it.
  const label = new URLSearchParams(useSearch()).get('of');
  return label === null ? <Choose /> : <One label={label} key={label} />;
}

function Choose() {
  useDocumentTitle('Queues · Steadycone');
  const labels = useQuery({ queryKey: ['queues'], queryFn: queueLabels, refetchInterval: ASK_AGAIN_MS });
  const queues = labels.data?.queues ?? [];
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Queues</h1>
      </div>
      <p>
        A queue is a folder of runs read together, one emitter’s work say: which files can be kept, the first
        bad one, what drifts, and a warning before the emitter fails.
      </p>
      {labels.isPending && <p role="status">Fetching the queues.</p>}
      {labels.isError && <p className="fault">{labels.error.message}</p>}
      {labels.data && queues.length === 0 && (
        <p>
          None yet. In a terminal, <code>steadycone read FOLDER --queue</code> reads one, and{' '}
          <code>steadycone read FOLDER --watch</code> follows one through the night.
        </p>
      )}
      <ul className="plain bench-list">
        {queues.map((queue) => (
          <li key={queue.label}>
            <Link href={`/queue?${new URLSearchParams({ of: queue.label })}`}>
              <span>{count(queue.runs)} runs</span>
              <span className="title">
                {queue.label}
                {queue.invented ? ' [invented]' : ''}
              </span>
              <span className="soft">last added {whenText(queue.last)}</span>
            </Link>
          </li>
        ))}
      </ul>
    </>
  );
}

function One({ label }: { label: string }) {
  const queue = useQuery({
    queryKey: ['queues', label],
    queryFn: () => queueOf(label),
    refetchInterval: ASK_AGAIN_MS,
  });
  const data = queue.data;
  useDocumentTitle(`${data?.alert ? 'ALERT · ' : ''}Queue ${label} · Steadycone`);
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Queue {label}</h1>
        {data?.report.invented && <span className="stamp">INVENTED DATA</span>}
        <Button component={Link} href="/queue" variant="default">
          Other queues
        </Button>
      </div>
      {queue.isPending && <p role="status">Fetching the queue.</p>}
      {queue.isError && <p className="fault">{queue.error.message}</p>}
      {data?.alert && (
        <div className="caution" role="alert">
          <strong>Alert of {whenText(data.alert.raised_at)}.</strong> {data.alert.sentence}
          {data.report.warning.alarm === null &&
            ' As the files are judged now, they no longer give this warning.'}
        </div>
      )}
      {data && <QueueView report={data.report} label={label} />}
    </>
  );
}
