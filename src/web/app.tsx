import { Button, useComputedColorScheme, useMantineColorScheme } from '@mantine/core';
import { useMediaQuery } from '@mantine/hooks';
import { useEffect, useRef } from 'react';
import { Link, Route, Switch, useLocation } from 'wouter';
import { BenchPage } from './bench/bench-page.tsx';
import { BenchEntryPage } from './bench/entry-page.tsx';
import { ExplainPage } from './explain/explain-page.tsx';
import { GuidePage } from './explain/guide-page.tsx';
import { PlanPage } from './plan/plan-page.tsx';
import { QueuePage } from './queue/queue-page.tsx';
import { ReadPage } from './read/read-page.tsx';
import { RehearsePage } from './rehearse/rehearse-page.tsx';
import { SettlePage } from './settle/settle-page.tsx';
import { TracePage } from './trace/trace-page.tsx';

/** As in look.css. */
const NARROW = '(max-width: 559px)';

const pages = [
  { path: '/plan', name: 'Plan' },
  { path: '/read', name: 'Read' },
  { path: '/trace', name: 'Trace' },
  { path: '/explain', name: 'Explain' },
  { path: '/settle', name: 'Settle' },
  { path: '/queue', name: 'Queue' },
  { path: '/rehearse', name: 'Rehearse' },
  { path: '/bench', name: 'Bench' },
] as const;

export function App() {
  const [location] = useLocation();
  const main = useRef<HTMLElement>(null);
  const first = useRef(true);
  // A new page moves the reader's place to its heading; the first load leaves it at the top.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the location is the trigger
  useEffect(() => {
    if (first.current) first.current = false;
    else main.current?.querySelector<HTMLElement>('h1')?.focus();
  }, [location]);
  return (
    <>
      <a className="skip" href="#main">
        Skip to the page's content
      </a>
      <header className="top">
        <Link href="/plan" className="mark target">
          Steadycone
        </Link>
        <Pages location={location} />
        <SchemeSwitch />
      </header>
      <main id="main" ref={main} tabIndex={-1}>
        <Switch>
          <Route path="/" component={PlanPage} />
          <Route path="/plan" component={PlanPage} />
          <Route path="/read/:readingId?" component={ReadPage} />
          <Route path="/explain" component={ExplainPage} />
          <Route path="/explain/guide" component={GuidePage} />
          <Route path="/trace" component={TracePage} />
          <Route path="/settle/:id?" component={SettlePage} />
          <Route path="/queue" component={QueuePage} />
          <Route path="/rehearse" component={RehearsePage} />
          <Route path="/bench" component={BenchPage} />
          <Route path="/bench/:id" component={BenchEntryPage} />
          <Route>
            <h1 tabIndex={-1}>There is no page at this address</h1>
            <p>
              <Link href="/plan">Go to Plan</Link>
            </p>
          </Route>
        </Switch>
      </main>
    </>
  );
}

/** On a phone one line with the page's name, which opens the others. */
function Pages({ location }: { location: string }) {
  const narrow = useMediaQuery(NARROW, false, { getInitialValueInEffect: false });
  const links = pages.map(({ path, name }) => (
    <Link key={path} href={path} aria-current={isOn(location, path) ? 'page' : undefined}>
      {name}
    </Link>
  ));
  if (!narrow) return <nav aria-label="Pages">{links}</nav>;
  const here = pages.find(({ path }) => isOn(location, path));
  return (
    <details className="pages" key={location}>
      <summary>Pages{here ? `: ${here.name}` : ''}</summary>
      <nav aria-label="Pages">{links}</nav>
    </details>
  );
}

function isOn(location: string, path: string): boolean {
  return location.startsWith(path) || (location === '/' && path === '/plan');
}

function SchemeSwitch() {
  const { setColorScheme } = useMantineColorScheme();
  const other = useComputedColorScheme('light') === 'dark' ? 'light' : 'dark';
  return (
    <Button variant="default" onClick={() => setColorScheme(other)}>
      Switch to {other}
    </Button>
  );
}
