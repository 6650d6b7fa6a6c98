/** One open question of a trace file as a field, in the words of the page. */
import { NativeSelect, TextInput } from '@mantine/core';
import { type OpenQuestion, unitsOf } from '../../formats/trace/index.ts';
import type { Typed } from './trace-told.ts';

export interface QuestionFieldProps {
  question: OpenQuestion;
  headings: readonly string[];
  typed: Typed;
  onChange: (typed: Typed) => void;
}

const CHOOSE = { value: '', label: 'choose' };

export function QuestionField({ question, headings, typed, onChange }: QuestionFieldProps) {
  const select = (key: keyof Typed, label: string, data: { value: string; label: string }[]) => (
    <NativeSelect
      label={label}
      value={typed[key]}
      data={[CHOOSE, ...data]}
      onChange={(event) => onChange({ ...typed, [key]: event.currentTarget.value })}
    />
  );
  const text = (key: keyof Typed, label: string) => (
    <TextInput
      label={label}
      value={typed[key]}
      autoComplete="off"
      inputMode="decimal"
      onChange={(event) => onChange({ ...typed, [key]: event.currentTarget.value })}
    />
  );
  const named = (k: number) => `"${headings[k] ?? k + 1}"`;
  const columns = (candidates: readonly number[]) =>
    (candidates.length > 0 ? candidates : headings.map((_, k) => k)).map((k) => ({
      value: String(k + 1),
      label: headings[k] ?? `column ${k + 1}`,
    }));
  switch (question.about) {
    case 'way':
      return (
        <NativeSelect
          label="How a line is to be read"
          value={typed.delimiter === '' || typed.decimal === '' ? '' : `${typed.delimiter} ${typed.decimal}`}
          data={[
            CHOOSE,
            ...question.ways.map(({ delimiter, decimal, columns: many }) => ({
              value: `${delimiter} ${decimal}`,
              label:
                many === 1
                  ? `one column, decimal ${decimal}`
                  : `${many} columns parted by ${delimiter}, decimal ${decimal}`,
            })),
          ]}
          onChange={(event) => {
            const [delimiter = '', decimal = ''] = event.currentTarget.value.split(' ');
            onChange({
              ...typed,
              delimiter: delimiter as Typed['delimiter'],
              decimal: decimal as Typed['decimal'],
            });
          }}
        />
      );
    case 'column':
      return question.quantity === 'time' ? (
        <>
          {select('time_column', 'Column of the time', columns(question.candidates))}
          {text('rate', 'or samples per second')}
        </>
      ) : (
        select(
          question.quantity === 'current' ? 'column' : `${question.quantity}_column`,
          `Column of the ${question.quantity}`,
          columns(question.candidates),
        )
      );
    case 'unit':
      return (
        <>
          {select(
            question.quantity === 'current' ? 'unit' : `${question.quantity}_unit`,
            `Unit of the ${question.quantity} in ${named(question.column)}`,
            unitChoices(question.quantity),
          )}
          {question.quantity === 'time' && typed.time_column === '' && text('rate', 'or samples per second')}
        </>
      );
    case 'resistor':
      return text('resistor', `${named(question.column)} is a voltage: across a resistor of [MΩ]`);
    case 'step':
      return text('step', `What one stored step is worth [${question.unit}] (1 for floats)`);
    case 'full scale':
      return text('full_scale', 'Current at full scale [nA]');
    case 'channel':
      return select(
        'column',
        'Channel of the current',
        Array.from({ length: question.channels }, (_, k) => ({
          value: String(k + 1),
          label: `channel ${k + 1}`,
        })),
      );
  }
}

/** A current may also be logged as the voltage across a resistor. */
function unitChoices(
  quantity: 'current' | 'voltage' | 'pressure' | 'time',
): { value: string; label: string }[] {
  const own = unitsOf(quantity)
    .split(', ')
    .map((unit) => ({ value: unit, label: unit.replace(/^u/, 'µ') }));
  const across = quantity === 'current' ? ['V', 'mV', 'uV'] : [];
  return [
    ...own,
    ...across.map((unit) => ({ value: unit, label: `${unit.replace(/^u/, 'µ')} across a resistor` })),
  ];
}
