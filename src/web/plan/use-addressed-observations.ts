/** What was seen on this emitter lives in the address (`?o=`) beside the set-up: a link, a reload or the back button brings it back. */
import { useEffect, useRef, useState } from 'react';
import { useSearchParams } from 'wouter';
import { observationsFrom } from '../../contract/index.ts';
import type { Observation } from '../../core/window/index.ts';
import { fromAddress, toAddress } from '../address.ts';

type Take = (observations: readonly Observation[]) => void;

export function useAddressedObservations(): [readonly Observation[], Take] {
  const [search, setSearch] = useSearchParams();
  const inAddress = search.get('o') ?? '';
  const [observations, take] = useState(() => observationsIn(inAddress));
  const written = useRef(inAddress);
  useEffect(() => {
    if (inAddress === written.current) return;
    written.current = inAddress;
    take(observationsIn(inAddress));
  }, [inAddress]);
  useEffect(() => {
    const text = observations.length === 0 ? '' : toAddress({ observations });
    if (text === written.current) return;
    // Browsers refuse floods of address changes.
    const timer = setTimeout(() => {
      written.current = text;
      // The set-up is written beside it: what stands in the address now is kept.
      const next = new URLSearchParams(window.location.search);
      next.delete('seen');
      if (text === '') next.delete('o');
      else next.set('o', text);
      setSearch(next, { replace: true });
    }, 200);
    return () => clearTimeout(timer);
  }, [observations, setSearch]);
  return [observations, take];
}

/** Rows that this version cannot read are none. */
function observationsIn(text: string): readonly Observation[] {
  const document = text === '' ? undefined : fromAddress(text);
  if (document === undefined) return [];
  try {
    return observationsFrom(document);
  } catch {
    return [];
  }
}
