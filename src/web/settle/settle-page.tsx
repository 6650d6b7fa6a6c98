/** Settle: one emitter on one instrument, advised reading by reading; sessions stand on the bench and are taken up again. */
import { Button } from '@mantine/core';
import { useDocumentTitle } from '@mantine/hooks';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { Link, useLocation, useParams, useSearch } from 'wouter';
import { count, whenText } from '../words.ts';
import { NewSession } from './new-session.tsx';
import { SessionView } from './session-view.tsx';
import { startQuery } from './settle-address.ts';
import { settleStart, settlingOf, settlings } from './settle-api.ts';

export function SettlePage() {
  const { id } = useParams<{ id?: string }>();
  return id === undefined ? <Choose /> : <One id={id} key={id} />;
}

function Choose() {
  useDocumentTitle('Settle · Steadycone');
  const [, go] = useLocation();
  const queries = useQueryClient();
  const list = useQuery({ queryKey: ['settlings'], queryFn: settlings });
  const known = list.data?.settlings ?? [];
  const asked = startQuery(useSearch());
  const start = useQuery({
    queryKey: ['settlings', 'start', asked],
    queryFn: () => settleStart(asked ?? ''),
    enabled: asked !== undefined,
    retry: false,
  });
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Settle the spray</h1>
      </div>
      <p>
        You set, you read, you type what you read; after each reading stands the next voltage and position to
        try, and why. Nothing here moves a knob: every step is yours, and a raise always asks first.
      </p>
      {list.isError && <p className="fault">{list.error.message}</p>}
      {known.length > 0 && (
        <div className="section">
          <h2>Take up again</h2>
          <ul className="plain bench-list">
            {known.map((one) => (
              <li key={one.id}>
                <Link href={`/settle/${one.id}`}>
                  <span>{count(one.readings)} readings</span>
                  <span className="title">
                    {one.name}
                    {one.invented ? ' [invented]' : ''}
                  </span>
                  <span className="soft">{whenText(one.last)}</span>
                </Link>
              </li>
            ))}
          </ul>
        </div>
      )}
      <div className="section">
        <h2>Begin a session</h2>
        {start.data?.invented && <span className="stamp">INVENTED DATA</span>}
        {start.data?.because_words && <p className="next">{start.data.because_words}</p>}
        <ul>
          {start.data?.from.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
        {start.isError && <p className="fault">{start.error.message}</p>}
        {asked !== undefined && start.isPending && <p role="status">Fetching what is known.</p>}
        {(asked === undefined || !start.isPending) && (
          <NewSession
            key={asked}
            start={start.data}
            onBegun={(id) => {
              void queries.invalidateQueries({ queryKey: ['settlings'] });
              go(`/settle/${id}`);
            }}
          />
        )}
      </div>
    </>
  );
}

function One({ id }: { id: string }) {
  const queries = useQueryClient();
  const key = ['settlings', id];
  const open = useQuery({
    queryKey: key,
    queryFn: () => settlingOf(id),
    staleTime: Number.POSITIVE_INFINITY,
  });
  useDocumentTitle(`${open.data?.session.name ?? id} · Settle · Steadycone`);
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>{open.data?.session.name ?? 'Settle'}</h1>
        {open.data?.session.invented && <span className="stamp">INVENTED DATA</span>}
        <Button component={Link} href="/settle" variant="default">
          Other sessions
        </Button>
      </div>
      {open.isPending && <p role="status">Fetching the session.</p>}
      {open.isError && <p className="fault">{open.error.message}</p>}
      {open.data && <SessionView open={open.data} onNext={(next) => queries.setQueryData(key, next)} />}
    </>
  );
}
