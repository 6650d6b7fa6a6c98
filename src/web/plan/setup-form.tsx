import { Button } from '@mantine/core';
import type { ReactNode } from 'react';
import { ADDITIVES, isSalt } from '../../core/setup.ts';
import { useDraft, valueAt, withAdditive, withContact, withFeed, withGradient } from './draft.ts';
import { ChoiceField, faultText, NumberField, WordField } from './fields.tsx';

export function SetupForm() {
  const { draft, replace } = useDraft();
  const additive = valueAt(draft, 'liquid.additive');
  const salt = typeof additive === 'string' && isSalt(additive);
  const hasAdditive = typeof additive === 'string' && additive !== 'none';
  const isStatic = valueAt(draft, 'feed.kind') === 'static';
  return (
    <form onSubmit={(event) => event.preventDefault()} aria-label="Set-up">
      <Group legend="Emitter" path="emitter">
        <NumberField path="emitter.bore_um" label="Bore at the tip" unit="µm" />
        <NumberField path="emitter.rim_um" label="Rim at the tip" unit="µm" />
        <NumberField path="emitter.taper_half_angle_deg" label="Taper half-angle" unit="°" otherwise="8" />
        <NumberField path="emitter.shank_diameter_um" label="Shank diameter" unit="µm" otherwise="360" />
        <NumberField path="emitter.free_length_mm" label="Free length" unit="mm" otherwise="10" />
        <ChoiceField
          path="emitter.wets"
          label="Wets up to"
          otherwise="rim"
          options={[
            { value: 'bore', label: 'bore (inner edge)' },
            { value: 'rim', label: 'rim (outer edge)' },
            { value: 'shank', label: 'shank (flooded)' },
          ]}
        />
        <ChoiceField
          path="emitter.inside"
          label="Bore behind the tip"
          otherwise="unknown"
          options={[
            { value: 'unknown', label: 'not known' },
            { value: 'widens', label: 'widens' },
            { value: 'constant', label: 'constant' },
          ]}
        />
        <WordField path="emitter.material" label="Material" />
      </Group>
      <Group legend="Liquid" path="liquid">
        <NumberField path="liquid.acetonitrile_percent" label="Acetonitrile" unit="% v/v" otherwise="0" />
        <NumberField path="liquid.methanol_percent" label="Methanol" unit="% v/v" otherwise="0" />
        <NumberField path="liquid.propanol_2_percent" label="2-Propanol" unit="% v/v" otherwise="0" />
        <NumberField path="liquid.temperature_C" label="Temperature" unit="°C" otherwise="25" />
        <ChoiceField
          path="liquid.additive"
          label="Additive"
          otherwise="none"
          options={ADDITIVES}
          onChoose={(name) => replace(withAdditive(draft, name))}
        />
        {hasAdditive && !salt && (
          <NumberField path="liquid.additive_percent" label="Its amount" unit="% v/v" />
        )}
        {hasAdditive && salt && <NumberField path="liquid.additive_mM" label="Its amount" unit="mmol/L" />}
        <NumberField
          path="liquid.conductivity_S_m"
          label="Measured conductivity"
          unit="S/m"
          otherwise="not measured"
        />
        <NumberField
          path="liquid.surface_tension_mN_m"
          label="Measured surface tension"
          unit="mN/m"
          otherwise="not measured"
        />
      </Group>
      <Group legend="Feed" path="feed">
        <ChoiceField
          path="feed.kind"
          label="Fed by"
          otherwise="pumped"
          options={[
            { value: 'pumped', label: 'pump' },
            { value: 'static', label: 'gas pressure' },
          ]}
          onChoose={(kind) => replace(withFeed(draft, kind))}
        />
        {isStatic ? (
          <NumberField path="feed.back_pressure_mbar" label="Back pressure" unit="mbar" />
        ) : (
          <NumberField path="feed.flow_nL_min" label="Flow rate" unit="nL/min" />
        )}
      </Group>
      <Group legend="Inlet" path="inlet">
        <NumberField path="inlet.distance_mm" label="Distance" unit="mm" />
        <NumberField path="inlet.lateral_offset_mm" label="Offset" unit="mm" otherwise="0" />
        <NumberField path="inlet.angle_deg" label="Angle" unit="°" otherwise="0" />
        <NumberField path="inlet.bore_mm" label="Inlet bore" unit="mm" otherwise="0.5" />
        <NumberField path="inlet.potential_V" label="Inlet potential" unit="V" otherwise="0" />
      </Group>
      <VoltageGroup />
      <GradientGroup />
      <Group legend="Room and name" path="room">
        <NumberField path="room.temperature_C" label="Temperature" unit="°C" otherwise="not stated" />
        <NumberField path="room.humidity_percent" label="Humidity" unit="%" otherwise="not stated" />
        <div className="wide">
          <WordField path="name" label="Name of this set-up" />
        </div>
      </Group>
    </form>
  );
}

function VoltageGroup() {
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

function GradientGroup() {
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

function RemoveButton(props: { path: string; entries: readonly unknown[]; index: number; word: string }) {
  const { set } = useDraft();
  const others = props.entries.filter((_, i) => i !== props.index);
  return (
    <Button variant="subtle" mt="xs" onClick={() => set(props.path, others)}>
      Remove {props.word} {props.index + 1}
    </Button>
  );
}

function Group(props: { legend: string; path?: string; children: ReactNode }) {
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
