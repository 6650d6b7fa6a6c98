/** A named group of fields with its own fault, and the button that takes one entry out of a list. */
import { Button } from '@mantine/core';
import type { ReactNode } from 'react';
import { useDraft } from './draft.ts';
import { faultText } from './fields.tsx';

export function RemoveButton(props: {
  path: string;
  entries: readonly unknown[];
  index: number;
  word: string;
}) {
  const { set } = useDraft();
  const others = props.entries.filter((_, i) => i !== props.index);
  return (
    <Button variant="subtle" mt="xs" onClick={() => set(props.path, others)}>
      Remove {props.word} {props.index + 1}
    </Button>
  );
}

export function Group(props: { legend: string; path?: string; children: ReactNode }) {
  const { faults } = useDraft();
  const fault = props.path === undefined ? undefined : faultText(faults, props.path);
  return (
    <fieldset className="group">
      <legend>{props.legend}</legend>
      {fault && <p className="fault">{fault}</p>}
      <div className="fields">{props.children}</div>
    </fieldset>
  );
}
