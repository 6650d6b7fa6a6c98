/** The fields for what a trace file does not say: one part for the file itself, one for the meter and the person's own readings. */
import { NativeSelect, TextInput } from '@mantine/core';
import type { Typed } from './trace-told.ts';

export interface ToldProps {
  typed: Typed;
  onChange: (typed: Typed) => void;
}

type Word = Exclude<keyof Typed, 'decimal' | 'delimiter'>;

export function FileFields(props: ToldProps) {
  const { typed, onChange } = props;
  return (
    <div className="fields">
      <Text {...props} name="column" label="Column of the current" hint="by its heading" />
      <Text {...props} name="unit" label="Its unit" hint="by its heading" />
      <Text {...props} name="time_column" label="Column of the time" hint="by its heading" />
      <Text {...props} name="time_unit" label="Unit of the time" hint="by its heading" />
      <Text {...props} name="voltage_column" label="Column of the voltage" hint="by its heading" />
      <Text {...props} name="voltage_unit" label="Unit of the voltage" hint="by its heading" />
      <Text {...props} name="rate" label="Samples per second" hint="by the time column" />
      <NativeSelect
        label="Between cells"
        value={typed.delimiter}
        data={[{ value: '', label: 'as found' }, 'comma', 'semicolon', 'tab', 'space']}
        onChange={(event) =>
          onChange({ ...typed, delimiter: event.currentTarget.value as Typed['delimiter'] })
        }
      />
      <NativeSelect
        label="Decimal sign"
        value={typed.decimal}
        data={[{ value: '', label: 'as found' }, 'comma', 'point']}
        onChange={(event) => onChange({ ...typed, decimal: event.currentTarget.value as Typed['decimal'] })}
      />
      <Text {...props} name="full_scale" label="Current at full scale [nA]" hint="WAV only" />
      <Text {...props} name="step" label="Worth of one stored step" hint="by the sidecar" />
    </div>
  );
}

export function MeterFields(props: ToldProps) {
  return (
    <div className="fields">
      <Text {...props} name="resistor" label="Resistor the current runs through [MΩ]" hint="none" />
      <Text {...props} name="meter" label="Own resistance of the meter beside it [MΩ]" hint="very large" />
      <Text {...props} name="capacitance" label="Capacitance across it [pF]" hint="not known" />
      <Text {...props} name="bandwidth" label="Bandwidth of the meter [Hz]" hint="from the noise" />
      <Text {...props} name="steady" label="Your own steady reading [nA]" hint="none yet" />
      <Text {...props} name="flow_off" label="Voltage on, flow off [nA]" hint="not read" />
    </div>
  );
}

function Text({
  typed,
  onChange,
  name,
  label,
  hint,
}: ToldProps & { name: Word; label: string; hint: string }) {
  return (
    <TextInput
      label={label}
      placeholder={hint}
      value={typed[name]}
      autoComplete="off"
      onChange={(event) => onChange({ ...typed, [name]: event.currentTarget.value })}
    />
  );
}
