/** What may move and how far, what is read, where everything stands: the frame that no advice ever leaves. */
import { Button, Checkbox, NativeSelect, TextInput } from '@mantine/core';
import { useState } from 'react';
import type { SettleStart } from '../../contract/index.ts';
import {
  AXES,
  type Axis,
  MATTERS,
  READS,
  type SettlePoint,
  type SettleSession,
} from '../../core/settling/index.ts';
import { typedNumber } from '../plan/draft.ts';
import { saidBy } from '../said-by.ts';
import { AXIS_NAMES } from './axis-names.ts';
import { type NewSettling, newSettling } from './settle-api.ts';
import { type AxisTyped, startValues } from './start-values.ts';

const APPROACH_NAMES: Record<Axis, [string, string]> = {
  voltage_V: ['from below', 'from above'],
  distance_mm: ['coming back', 'coming nearer'],
  lateral_x_mm: ['from smaller x', 'from larger x'],
  lateral_y_mm: ['coming up', 'coming down'],
  angle_deg: ['turning up', 'turning down'],
};

export interface NewSessionProps {
  /** What is known already, where the session is begun from an explanation. */
  start?: SettleStart | undefined;
  onBegun: (id: string) => void;
}

export function NewSession({ start, onBegun }: NewSessionProps) {
  const [typed, setTyped] = useState(() => startValues(start));
  const [words, setWords] = useState({
    name: start?.name ?? '',
    emitter: start?.emitter ?? '',
    instrument: start?.instrument ?? '',
    supply: '3000',
    discharge: '',
    flow: start?.flow_nL_min == null ? '' : String(start.flow_nL_min),
    radius: '',
    tension: '',
  });
  const [polarity, setPolarity] = useState<'positive' | 'negative'>(start?.polarity ?? 'positive');
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
      const { id } = await newSettling({
        ...sessionFrom(typed, words, { polarity, reads, matters }),
        ...storyOf(start),
      });
      onBegun(id);
    } catch (trouble) {
      setFault(saidBy(trouble));
    }
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void begin();
      }}
    >
      <div className="fields">
        <TextInput label="Name of the session" placeholder="emitter and instrument" {...word('name')} />
        <TextInput label="Emitter" placeholder="not named" maxLength={120} {...word('emitter')} />
        <TextInput label="Instrument" placeholder="not named" maxLength={120} {...word('instrument')} />
      </div>
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
        supply to 0 V, read back 0 V, wait, ground. The supply limited to some ten microamperes, with a series
        resistor; the source closed, the exhaust on. Smell of ozone, noise or light: lower at once. Local
        rules and trained staff come first; interlocks stay as they are.
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

/** The document as typed; the server checks it and names what is wrong. */
function sessionFrom(
  typed: Record<Axis, AxisTyped>,
  words: Record<
    'name' | 'emitter' | 'instrument' | 'supply' | 'discharge' | 'flow' | 'radius' | 'tension',
    string
  >,
  chosen: Pick<SettleSession, 'polarity' | 'reads' | 'matters'>,
): NewSettling {
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
    ...(words.emitter.trim() === '' ? {} : { emitter: words.emitter.trim() }),
    ...(words.instrument.trim() === '' ? {} : { instrument: words.instrument.trim() }),
    ...(words.discharge === '' ? {} : { discharge_limit_V: number(words.discharge) }),
    ...(words.flow === '' ? {} : { flow_nL_min: number(words.flow) }),
    ...(onset ? { onset } : {}),
  };
}

/** The reason as the server keeps it, and the set-up that the onset and the discharge limit come from. */
function storyOf(start: SettleStart | undefined): Pick<NewSettling, 'because' | 'setup' | 'invented'> {
  if (start === undefined) return {};
  const { because, setup, invented } = start;
  const reading_id = because?.before?.reading_id;
  return {
    ...(invented ? { invented } : {}),
    ...(setup === null ? {} : { setup }),
    ...(because === null
      ? {}
      : {
          because: {
            cause: because.cause,
            ...(because.probability === undefined ? {} : { probability: because.probability }),
            ...(reading_id === undefined ? {} : { reading_id }),
          },
        }),
  };
}
