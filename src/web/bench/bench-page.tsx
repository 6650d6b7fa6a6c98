import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useDebouncedValue, useDocumentTitle } from '@mantine/hooks';
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Link, useSearchParams } from 'wouter';
import { type BenchItem, benchKinds } from '../../contract/index.ts';
import { benchItems } from '../api.ts';
import { whenText } from '../words.ts';
import { kindName } from './kinds.ts';

export function BenchPage() {
  useDocumentTitle('Bench · Steadycone');
  const [search, setSearch] = useSearchParams();
  const kind = search.get('kind') ?? '';
  const [text, setText] = useState(search.get('q') ?? '');
  const [wanted] = useDebouncedValue(text, 200);
  const inAddress = search.get('q') ?? '';
  useEffect(() => {
    if (wanted !== inAddress) setSearch((now) => withParam(now, 'q', wanted), { replace: true });
  }, [wanted, inAddress, setSearch]);
  const list = useQuery({
    queryKey: ['bench', 'list', kind, wanted],
    queryFn: () => benchItems(kind, wanted),
    placeholderData: keepPreviousData,
  });
  const items = list.data?.items ?? [];
  return (
    <>
      <div className="headline">
        <h1 tabIndex={-1}>Bench</h1>
        <span className="soft">
          What is kept: emitters, set-ups, plans, runs, readings, working points, notes.
        </span>
      </div>
      <search className="finder">
        <TextInput
          label="Find words"
          type="search"
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
        />
        <NativeSelect
          label="Kind"
          value={kind}
          data={[
            { value: '', label: 'all kinds' },
            ...benchKinds.map((k) => ({ value: k, label: kindName(k) })),
          ]}
          onChange={(event) => {
            const chosen = event.currentTarget.value;
            setSearch((now) => withParam(now, 'kind', chosen), { replace: true });
          }}
        />
      </search>
      <p role="status">
        {list.isError ? (
          <span className="fault">{list.error.message}</span>
        ) : list.isPending ? (
          'Looking.'
        ) : items.length === 0 ? (
          'Nothing here fits. Keep a plan or read a run and it will stand here.'
        ) : (
          `${items.length} ${items.length === 1 ? 'entry' : 'entries'}`
        )}
      </p>
      <BenchList items={items} />
      <div className="section">
        <Button component="a" variant="default" href="/api/export" download="bench.json">
          Everything on the bench as JSON
        </Button>
      </div>
    </>
  );
}

export function BenchList({ items }: { items: readonly BenchItem[] }) {
  return (
    <ul className="plain bench-list">
      {items.map((item) => (
        <li key={item.id}>
          <Link href={`/bench/${item.id}`}>
            <span className="soft">{kindName(item.kind)}</span>
            <span className="title">
              {item.title} {item.invented && <span className="stamp">invented</span>}
            </span>
            <span className="soft">
              {whenText(item.when)}
              {item.who !== '' && `, ${item.who}`}, <span style={{ whiteSpace: 'nowrap' }}>{item.id}</span>
            </span>
          </Link>
        </li>
      ))}
    </ul>
  );
}

function withParam(now: URLSearchParams, name: string, value: string): URLSearchParams {
  const next = new URLSearchParams(now);
  if (value === '') next.delete(name);
  else next.set(name, value);
  return next;
}
