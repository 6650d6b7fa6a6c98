import { memo } from 'react';
import { ADDITIVES, isSalt } from '../../core/setup.ts';
import { useDraft, valueAt, withAdditive, withFeed } from './draft.ts';
import { ChoiceField, NumberField, WordField } from './fields.tsx';
import { GradientGroup } from './gradient-group.tsx';
import { Group } from './group.tsx';
import { VoltageGroup } from './voltage-group.tsx';

export const SetupForm = memo(function SetupForm() {
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
});
