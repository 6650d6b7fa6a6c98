import { NativeSelect, TextInput } from '@mantine/core';
import { useEffect, useState } from 'react';
import type { Fault } from '../../core/errors.ts';
import { typedNumber, useDraft, valueAt } from './draft.ts';

/** The id of the control for a path; the list of faults links to it. */
export function fieldId(path: string): string {
  return `field-${path.replaceAll('.', '-')}`;
}

export function NumberField(props: { path: string; label: string; unit: string; otherwise?: string }) {
  const { draft, set, faults } = useDraft();
  const value = valueAt(draft, props.path);
  const [text, setText] = useState(shown(value));
  // The text follows the document when that changes elsewhere (an address, another choice), not while it says the same.
  useEffect(() => {
    setText((now) => (Object.is(typedNumber(now), value) ? now : shown(value)));
  }, [value]);
  return (
    <TextInput
      id={fieldId(props.path)}
      label={
        <>
          {props.label} {props.unit && <span className="unit">[{props.unit}]</span>}
        </>
      }
      placeholder={props.otherwise}
      inputMode="decimal"
      autoComplete="off"
      value={text}
      error={faultText(faults, props.path)}
      onChange={(event) => {
        setText(event.currentTarget.value);
        set(props.path, typedNumber(event.currentTarget.value));
      }}
    />
  );
}

export function WordField(props: { path: string; label: string }) {
  const { draft, set, faults } = useDraft();
  const value = valueAt(draft, props.path);
  return (
    <TextInput
      id={fieldId(props.path)}
      label={props.label}
      autoComplete="off"
      value={typeof value === 'string' ? value : ''}
      error={faultText(faults, props.path)}
      onChange={(event) =>
        set(props.path, event.currentTarget.value === '' ? undefined : event.currentTarget.value)
      }
    />
  );
}

export function ChoiceField(props: {
  path: string;
  label: string;
  options: readonly (string | { value: string; label: string })[];
  otherwise: string;
  onChoose?: (value: string) => void;
}) {
  const { draft, set, faults } = useDraft();
  const value = valueAt(draft, props.path);
  return (
    <NativeSelect
      id={fieldId(props.path)}
      label={props.label}
      data={[...props.options]}
      value={typeof value === 'string' ? value : props.otherwise}
      error={faultText(faults, props.path)}
      onChange={(event) => {
        const chosen = event.currentTarget.value;
        if (props.onChoose) props.onChoose(chosen);
        else set(props.path, chosen);
      }}
    />
  );
}

export function faultText(faults: readonly Fault[], path: string): string | undefined {
  const here = faults.filter((fault) => fault.where === path);
  return here.length === 0 ? undefined : here.map(faultWords).join('. ');
}

export function faultWords(fault: Fault): string {
  return `${fault.kind}${fault.found === '' ? '' : `: ${fault.found}`}; expected ${fault.expected}`;
}

function shown(value: unknown): string {
  return typeof value === 'number' || typeof value === 'string' ? String(value) : '';
}
