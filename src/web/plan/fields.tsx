import { NativeSelect, TextInput } from '@mantine/core';
import { memo, useEffect, useMemo, useRef, useState } from 'react';
import type { Fault } from '../../core/errors.ts';
import { type DraftDesk, typedNumber, useDraft, valueAt } from './draft.ts';

/** The id of the control for a path; the list of faults links to it. */
export function fieldId(path: string): string {
  return `field-${path.replaceAll('.', '-')}`;
}

export function NumberField(props: { path: string; label: string; unit: string; otherwise?: string }) {
  const { draft, set, faults } = useDraft();
  return (
    <NumberInput
      {...props}
      value={valueAt(draft, props.path)}
      fault={faultText(faults, props.path)}
      set={set}
    />
  );
}

/** Kept apart so that a dragged value redraws its own field alone: forty inputs would cost a picture its time. */
const NumberInput = memo(function NumberInput(props: {
  path: string;
  label: string;
  unit: string;
  otherwise?: string;
  value: unknown;
  fault: string | undefined;
  set: DraftDesk['set'];
}) {
  const { path, value, set } = props;
  const [text, setText] = useState(shown(value));
  // The text follows the document when that changes elsewhere (an address, another choice), not while it says the same.
  useEffect(() => {
    setText((now) => (Object.is(typedNumber(now), value) ? now : shown(value)));
  }, [value]);
  return (
    <TextInput
      id={fieldId(path)}
      label={
        <>
          {props.label} {props.unit && <span className="unit">[{props.unit}]</span>}
        </>
      }
      placeholder={props.otherwise}
      inputMode="decimal"
      autoComplete="off"
      value={text}
      error={props.fault}
      onChange={(event) => {
        setText(event.currentTarget.value);
        set(path, typedNumber(event.currentTarget.value));
      }}
    />
  );
});

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
  const chosen = typeof value === 'string' ? value : props.otherwise;
  const error = faultText(faults, props.path);
  const { path, label, options } = props;
  const choose = useRef<(value: string) => void>(() => {});
  choose.current = (next) => (props.onChoose ? props.onChoose(next) : set(path, next));
  // As with the numbers: redrawn only when what it shows has changed.
  // biome-ignore lint/correctness/useExhaustiveDependencies: a field's options never change while it stands
  return useMemo(
    () => (
      <NativeSelect
        id={fieldId(path)}
        label={label}
        data={[...options]}
        value={chosen}
        error={error}
        onChange={(event) => choose.current(event.currentTarget.value)}
      />
    ),
    [path, label, chosen, error],
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
