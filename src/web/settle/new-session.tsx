/** What may move and how far, what is read, where everything stands: the frame that no advice ever leaves. */
import { Button, Checkbox, NativeSelect, TextInput } from '@mantine/core';
import { useState } from 'react';
import {
  AXES,
  type Axis,
  MATTERS,
  READS,
  type SettlePoint,
  type SettleSession,
} from '../../core/settling/index.ts';
import { typedNumber } from '../plan/draft.ts';
import { AXIS_NAMES } from './axis-names.ts';
import { newSettling } from './settle-api.ts';

interface AxisTyped {
  moves: boolean;
  now: string;
  low: string;
  high: string;
  step: string;
  approach: 'from below' | 'from above';
}

const STARTS: Record<Axis, AxisTyped> = {
  voltage_V: axis(true, '1200', '900', '2400', '10'),
  distance_mm: axis(true, '3', '1.5', '6', '0.1'),
  lateral_x_mm: axis(true, '0', '-2', '2', '0.05'),
  lateral_y_mm: axis(false, '0', '-2', '2', '0.05'),
  angle_deg: axis(false, '0', '0', '30', '1'),
};

const APPROACH_NAMES: Record<Axis, [string, string]> = {
  voltage_V: ['from below', 'from above'],
  distance_mm: ['coming back', 'coming nearer'],
  lateral_x_mm: ['from smaller x', 'from larger x'],
  lateral_y_mm: ['coming up', 'coming down'],
  angle_deg: ['turning up', 'turning down'],
};

export function NewSession({ onBegun }: { onBegun: (id: string) => void }) {
  const [typed, setTyped] = useState(STARTS);
  const [words, setWords] = useState({
    name: '',
    supply: '3000',
    discharge: '',
    flow: '',
    radius: '',
    tension: '',
  });
  const [polarity, setPolarity] = useState<'positive' | 'negative'>('positive');
  const [reads, setReads] = useState<SettleSession['reads']>('typed');
  const [matters, setMatters] = useState<SettleSession['matters']>('both');
  const [fault, setFault] = useState('');
  const set = (name: Axis, part: Partial<AxisTyped>) =>
    setTyped({ ...typed, [name]: { ...typed[name], ...part } });
  const word = (key: keyof typeof words) => ({
    value: words[key],
    autoComplete: 'off',
    onChange: (event: { currentTarget: { value: string } }) =>
      setWords({ ...words, [key]: event.currentTarget.value }),
  });
  const begin = async () => {
    try {
      const { id } = await newSettling(sessionFrom(typed, words, { polarity, reads, matters }));
      onBegun(id);
    } catch (trouble) {
      setFault(trouble instanceof Error ? trouble.message : String(trouble));
    }
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void begin();
      }}
    >
      <TextInput
        label="Name of the session"
        placeholder="emitter and instrument"
        maw={420}
        {...word('name')}
      />
      <h3 style={{ marginTop: '1rem' }}>What may move</h3>
      {AXES.map((name) => (
        <AxisRow key={name} name={name} typed={typed[name]} set={(part) => set(name, part)} />
      ))}
      <h3>Limits that no advice passes</h3>
      <div className="fields">
        <TextInput label="Most the supply may give [V]" inputMode="decimal" {...word('supply')} />
        <TextInput
          label="Discharge met or expected from [V]"
          placeholder="not known"
          inputMode="decimal"
          {...word('discharge')}
        />
        <NativeSelect
          label="Polarity"
          value={polarity}
          data={['positive', 'negative']}
          onChange={(event) =>
            setPolarity(event.currentTarget.value === 'negative' ? 'negative' : 'positive')
          }
        />
      </div>
      <h3>What is read, and what matters</h3>
      <div className="fields">
        <NativeSelect
          label="Read from"
          value={reads}
          data={[...READS]}
          onChange={(event) => setReads(event.currentTarget.value as SettleSession['reads'])}
        />
        <NativeSelect
          label="What matters"
          value={matters}
          data={[...MATTERS]}
          onChange={(event) => setMatters(event.currentTarget.value as SettleSession['matters'])}
        />
      </div>
      <details>
        <summary>What is known of the tip (not needed; a wide guess stands in)</summary>
        <div className="fields">
          <TextInput label="Flow [nL/min]" placeholder="not known" inputMode="decimal" {...word('flow')} />
          <TextInput
            label="Radius of the wetted rim [µm]"
            placeholder="not known"
            inputMode="decimal"
            {...word('radius')}
          />
          <TextInput
            label="Surface tension [mN/m]"
            placeholder="not known"
            inputMode="decimal"
            {...word('tension')}
          />
        </div>
      </details>
      <p className="caution">
        High voltage: the inlet and every wetted fitting may be live. Before a hand goes near the source:
        supply to 0 V, read back 0 V, wait, ground. Local rules and trained staff come first; interlocks stay
        as they are.
      </p>
      <p role="alert" className="fault">
        {fault}
      </p>
      <Button type="submit" size="lg">
        Begin
      </Button>
    </form>
  );
}

function AxisRow({
  name,
  typed,
  set,
}: {
  name: Axis;
  typed: AxisTyped;
  set: (part: Partial<AxisTyped>) => void;
}) {
  const { name: said, unit } = AXIS_NAMES[name];
  const field = (key: 'now' | 'low' | 'high' | 'step', label: string) => (
    <TextInput
      label={`${label} [${unit}]`}
      aria-label={`${said}, ${label.toLowerCase()}`}
      inputMode="decimal"
      autoComplete="off"
      value={typed[key]}
      onChange={(event) => set({ [key]: event.currentTarget.value })}
    />
  );
  return (
    <fieldset className="axis" data-axis={name}>
      <Checkbox
        size="2.75rem"
        label={said}
        checked={typed.moves}
        onChange={(event) => set({ moves: event.currentTarget.checked })}
      />
      <div className="fields">
        {field('now', 'Now')}
        {typed.moves && (
          <>
            {field('low', 'From')}
            {field('high', 'To')}
            {field('step', 'Step')}
            {name !== 'voltage_V' && (
              <NativeSelect
                label="Reach it always"
                value={typed.approach}
                data={[
                  { value: 'from below', label: APPROACH_NAMES[name][0] },
                  { value: 'from above', label: APPROACH_NAMES[name][1] },
                ]}
                onChange={(event) =>
                  set({ approach: event.currentTarget.value === 'from above' ? 'from above' : 'from below' })
                }
              />
            )}
          </>
        )}
      </div>
    </fieldset>
  );
}

function axis(moves: boolean, now: string, low: string, high: string, step: string): AxisTyped {
  return { moves, now, low, high, step, approach: 'from below' };
}

/** The document as typed; the server checks it and names what is wrong. */
function sessionFrom(
  typed: Record<Axis, AxisTyped>,
  words: Record<'name' | 'supply' | 'discharge' | 'flow' | 'radius' | 'tension', string>,
  chosen: Pick<SettleSession, 'polarity' | 'reads' | 'matters'>,
): Omit<SettleSession, 'readings'> {
  const number = (text: string) => typedNumber(text) as number;
  const axes: SettleSession['axes'] = {};
  const start = {} as SettlePoint;
  for (const name of AXES) {
    const { moves, now, low, high, step, approach } = typed[name];
    start[name] = number(now);
    if (moves)
      axes[name] = {
        low: number(low),
        high: number(high),
        step: number(step),
        ...(name === 'voltage_V' ? {} : { approach }),
      };
  }
  const onset = words.radius !== '' &&
    words.tension !== '' && {
      radius_um: number(words.radius),
      surface_tension_mN_m: number(words.tension),
    };
  return {
    seed: 1,
    start,
    axes,
    ...chosen,
    supply_limit_V: number(words.supply),
    ...(words.name === '' ? {} : { name: words.name }),
    ...(words.discharge === '' ? {} : { discharge_limit_V: number(words.discharge) }),
    ...(words.flow === '' ? {} : { flow_nL_min: number(words.flow) }),
    ...(onset ? { onset } : {}),
  };
}
