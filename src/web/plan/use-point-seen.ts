/** `?seen=point-3`: the observations of a kept working point calibrate the plan from the start. */
import { useEffect, useRef } from 'react';
import { useSearch } from 'wouter';
import { observationsFrom } from '../../contract/index.ts';
import type { Observation } from '../../core/window/index.ts';
import { isRecord } from '../address.ts';
import { benchEntry } from '../api.ts';

export function usePointSeen(take: (observations: readonly Observation[]) => void): void {
  const asked = new URLSearchParams(useSearch()).get('seen') ?? '';
  const taken = useRef('');
  useEffect(() => {
    if (asked === '' || asked === taken.current) return;
    taken.current = asked;
    benchEntry(asked)
      .then(({ document }) => {
        if (isRecord(document)) take(observationsFrom({ observations: document.observations }));
      })
      // A point that is gone calibrates nothing; the panel then shows an empty list.
      .catch(() => take([]));
  }, [asked, take]);
}
