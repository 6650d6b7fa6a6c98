/** Supply, polarity, where the contact sits, and the pieces of the liquid column behind it. */
import { Button } from '@mantine/core';
import { useDraft, valueAt, withContact } from './draft.ts';
import { ChoiceField, faultText, NumberField } from './fields.tsx';
import { Group, RemoveButton } from './group.tsx';

export function VoltageGroup() {
  const { draft, set, replace, faults } = useDraft();
  const column = valueAt(draft, 'voltage.column');
  const pieces: unknown[] = Array.isArray(column) ? column : [];
  const atJunction = valueAt(draft, 'voltage.contact') === 'liquid junction';
  const fault = faultText(faults, 'voltage.column');
  return (
    <Group legend="Voltage" path="voltage">
      <NumberField path="voltage.supply_V" label="Supply" unit="V" otherwise="not set: advise" />
      <ChoiceField path="polarity" label="Polarity" otherwise="positive" options={['positive', 'negative']} />
      <div className="wide">
        <ChoiceField
          path="voltage.contact"
          label="Contact with the liquid"
          otherwise="tip"
          options={[
            { value: 'tip', label: 'at the tip' },
            { value: 'liquid junction', label: 'liquid junction, then a column' },
          ]}
          onChoose={(contact) => replace(withContact(draft, contact))}
        />
      </div>
      {fault && <p className="fault wide">{fault}</p>}
      {atJunction && (
        <div className="wide">
          {pieces.map((_, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: pieces have no name but their place in the column
            <fieldset className="piece" key={i} aria-label={`Piece ${i + 1} of the liquid column`}>
              <div className="soft">Piece {i + 1}, counted from the contact</div>
              <div className="fields">
                <NumberField path={`voltage.column.${i}.bore_um`} label="Bore" unit="µm" />
                <NumberField path={`voltage.column.${i}.length_mm`} label="Length" unit="mm" />
                <NumberField
                  path={`voltage.column.${i}.open_fraction`}
                  label="Open share"
                  unit=""
                  otherwise="1"
                />
              </div>
              <RemoveButton path="voltage.column" entries={pieces} index={i} word="piece" />
            </fieldset>
          ))}
          <Button
            variant="default"
            onClick={() =>
              set('voltage.column', [...pieces, { bore_um: 50, length_mm: 100, open_fraction: 1 }])
            }
          >
            Add a piece
          </Button>
        </div>
      )}
    </Group>
  );
}
