import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { Link, useParams } from 'wouter';
import type { BenchEntry } from '../../contract/index.ts';
import { planHref } from '../address.ts';
import { benchEntry } from '../api.ts';
import { explanationHref } from '../explain/explain-address.ts';
import { saveJson } from '../save.ts';
import { whenText } from '../words.ts';
import { BenchList } from './bench-page.tsx';
import { DocumentView } from './document-view.tsx';
import { kindName, takesNotes } from './kinds.ts';
import { NoteForm } from './note-form.tsx';
import { PointLinks } from './point-links.tsx';

export function BenchEntryPage() {
  const { id = '' } = useParams<{ id: string }>();
  useDocumentTitle(`${id} · Bench · Steadycone`);
  const entry = useQuery({ queryKey: ['bench', 'entry', id], queryFn: () => benchEntry(id) });
  return (
    <>
      <p>
        <Link href="/bench" className="target">
          Back to the bench
        </Link>
      </p>
      <div className="headline">
        <h1 tabIndex={-1}>{entry.data?.item.title ?? id}</h1>
        {entry.data?.item.invented && <span className="stamp">INVENTED DATA</span>}
      </div>
      {entry.data ? (
        <Entry entry={entry.data} />
      ) : (
        <p role="status">
          {entry.isError ? <span className="fault">{entry.error.message}</span> : 'Fetching.'}
        </p>
      )}
    </>
  );
}

function Entry({ entry }: { entry: BenchEntry }) {
  const { item, document, related } = entry;
  return (
    <>
      <p>
        {kindName(item.kind)} <strong>{item.id}</strong>, {whenText(item.when)}
        {item.who !== '' && `, by ${item.who}`}; stored by version {item.version}
        {item.on !== undefined && (
          <>
            ; belongs to{' '}
            <Link className="target" href={`/bench/${item.on}`}>
              {item.on}
            </Link>
          </>
        )}
        .
      </p>
      <div className="row">
        <Opening entry={entry} />
        <Button variant="default" onClick={() => saveJson(`${item.id}.json`, document)}>
          Document as JSON
        </Button>
      </div>
      {takesNotes(item.kind) && (
        <div className="section">
          <h2>Put a note on it</h2>
          <NoteForm on={item.id} />
        </div>
      )}
      {related.length > 0 && (
        <div className="section">
          <h2>Related</h2>
          <BenchList items={related} />
        </div>
      )}
      <div className="section">
        <h2>The document</h2>
        <DocumentView value={document} />
      </div>
    </>
  );
}

/** Where the entry is best seen: a reading in Read, a set-up (also a plan's) in Plan. */
function Opening({ entry }: { entry: BenchEntry }) {
  const { item, document, related } = entry;
  const setupId = item.kind === 'plan' ? item.on : undefined;
  const setup = useQuery({
    queryKey: ['bench', 'entry', setupId],
    queryFn: () => benchEntry(setupId ?? ''),
    enabled: setupId !== undefined,
  });
  if (item.kind === 'setup')
    return (
      <Button component={Link} href={planHref(document)}>
        Open in Plan
      </Button>
    );
  if (item.kind === 'plan' && setup.data)
    return (
      <Button component={Link} href={planHref(setup.data.document)}>
        Open in Plan
      </Button>
    );
  const readingId = item.kind === 'reading' ? item.id : related.find((r) => r.kind === 'reading')?.id;
  if (readingId !== undefined && (item.kind === 'reading' || item.kind === 'run'))
    return (
      <>
        <Button component={Link} href={`/read/${readingId}`}>
          Open in Read
        </Button>
        <Button component={Link} variant="default" href={explanationHref({ reading: readingId })}>
          Explain
        </Button>
      </>
    );
  if (item.kind === 'point') return <PointLinks entry={entry} />;
  return null;
}
