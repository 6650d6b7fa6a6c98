/** The gradient's bottles and the lines of its table, or a button that adds one. */
import { Button } from '@mantine/core';
import { useDraft, valueAt, withGradient } from './draft.ts';
import { ChoiceField, faultText, NumberField } from './fields.tsx';
import { Group, RemoveButton } from './group.tsx';

export function GradientGroup() {
  const { draft, set, replace, faults } = useDraft();
  const gradient = valueAt(draft, 'gradient');
  const table = valueAt(draft, 'gradient.table');
  const rows: unknown[] = Array.isArray(table) ? table : [];
  if (gradient === undefined) {
    return (
      <Group legend="Gradient">
        <div className="wide">
          <Button variant="default" onClick={() => replace(withGradient(draft, true))}>
            Add a gradient
          </Button>
        </div>
      </Group>
    );
  }
  const fault = faultText(faults, 'gradient.table');
  const last = rows.at(-1);
  const nextTime = Number(valueAt(last, 'time_min') ?? 0) + 5;
  return (
    <Group legend="Gradient" path="gradient">
      <NumberField path="gradient.bottle_A_organic_percent" label="Organic in A" unit="% v/v" otherwise="0" />
      <NumberField
        path="gradient.bottle_B_organic_percent"
        label="Organic in B"
        unit="% v/v"
        otherwise="80"
      />
      <div className="wide">
        <ChoiceField
          path="gradient.organic"
          label="Organic"
          otherwise="acetonitrile"
          options={['acetonitrile', 'methanol', '2-propanol']}
        />
      </div>
      {fault && <p className="fault wide">{fault}</p>}
      {rows.map((_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines have no name but their place in the table
        <fieldset className="piece wide" key={i} aria-label={`Line ${i + 1} of the gradient`}>
          <div className="fields">
            <NumberField path={`gradient.table.${i}.time_min`} label="Time" unit="min" />
            <NumberField path={`gradient.table.${i}.percent_B`} label="Share of B" unit="%" />
          </div>
          <RemoveButton path="gradient.table" entries={rows} index={i} word="line" />
        </fieldset>
      ))}
      <div className="row wide">
        <Button
          variant="default"
          onClick={() =>
            set('gradient.table', [
              ...rows,
              { time_min: nextTime, percent_B: valueAt(last, 'percent_B') ?? 5 },
            ])
          }
        >
          Add a line
        </Button>
        <Button variant="subtle" onClick={() => replace(withGradient(draft, false))}>
          Remove the gradient
        </Button>
      </div>
    </Group>
  );
}
