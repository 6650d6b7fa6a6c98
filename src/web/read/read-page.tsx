import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import { Link, useLocation, useParams } from 'wouter';
import { benchEntry, type KeptRun } from '../api.ts';
import { readingOf } from './older.ts';
import { ReadingView } from './reading-view.tsx';
import { Upload } from './upload.tsx';

export function ReadPage() {
  const { readingId } = useParams<{ readingId?: string }>();
  return readingId === undefined ? <Choose /> : <Kept id={readingId} key={readingId} />;
}

function Choose() {
  useDocumentTitle('Read a run · Steadycone');
  const [, go] = useLocation();
  const queries = useQueryClient();
  const [unkept, setUnkept] = useState<KeptRun | undefined>();
  const onKept = (kept: KeptRun) => {
    void queries.invalidateQueries({ queryKey: ['bench'] });
    if (kept.reading_id === undefined) setUnkept(kept);
    else go(`/read/${kept.reading_id}`);
  };
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Read a run</h1>
      </div>
      <p>
        Give a run file, mzML or mzXML. You learn when the spray held, when it dropped out, and which minutes
        you can trust. The file is read as it arrives and is not kept; its reading is.
      </p>
      <Upload onKept={onKept} />
      {unkept && (
        <div className="section">
          <p className="fault" role="alert">
            Read, but not kept: {unkept.not_kept}. Save what you need from here before you leave this page.
          </p>
          <ReadingView id={undefined} reading={unkept.reading} runId={undefined} />
        </div>
      )}
      <div className="section">
        <p>
          Earlier readings stand on the{' '}
          <Link className="target" href="/bench">
            bench
          </Link>
          .
        </p>
      </div>
    </>
  );
}

function Kept({ id }: { id: string }) {
  const entry = useQuery({
    queryKey: ['bench', 'entry', id],
    queryFn: () => benchEntry(id),
    staleTime: Number.POSITIVE_INFINITY,
  });
  const reading = useMemo(() => readingOf(entry.data?.document), [entry.data]);
  const file = entry.data?.related.find(({ kind }) => kind === 'run')?.title;
  useDocumentTitle(`Reading ${file === undefined ? id : `of ${file}`} · Steadycone`);
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Reading</h1>
        <span className="soft">
          {file !== undefined && `${file} · `}
          {id}
        </span>
        {entry.data?.item.invented && <span className="stamp">INVENTED DATA</span>}
        <Button component={Link} href="/read" variant="default">
          Read another run
        </Button>
      </div>
      {entry.isPending && <p role="status">Fetching the reading.</p>}
      {entry.isError && <p className="fault">{entry.error.message}</p>}
      {entry.data && !reading && <p className="fault">{id} is no reading of a run.</p>}
      {reading && <ReadingView id={id} reading={reading} runId={entry.data?.item.on} />}
    </>
  );
}
