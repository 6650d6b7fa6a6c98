/** The explain session of the address: its state, its explanation, and the ways to change it. */
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { useLocation, useSearch } from 'wouter';
import { type ExplainState, searchOf, stateOf } from './explain-address.ts';
import { explanationOf } from './explain-api.ts';

export function useExplain() {
  const search = useSearch();
  const [path, go] = useLocation();
  const state = useMemo(() => stateOf(search), [search]);
  const explained = useQuery({
    queryKey: ['explain', searchOf(state)],
    queryFn: () => explanationOf(state),
    placeholderData: keepPreviousData,
    staleTime: Number.POSITIVE_INFINITY,
    retry: false,
  });
  const change = (next: ExplainState) => go(`${path}${searchOf(next)}`, { replace: true });
  return { state, explained, change };
}
