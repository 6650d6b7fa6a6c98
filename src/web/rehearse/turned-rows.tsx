/** What a person turns, as short rows with words under them: a slider, a step down, a step up. All of it is simulated. */
import { Button } from '@mantine/core';
import { CONTROL_RANGE, TURNED, type Turned } from '../../rehearsal/index.ts';
import { given, withUnit } from '../words.ts';
import type { Rehearsal } from './use-rehearsal.ts';

const ROWS: Record<Turned, { name: string; words: string; big: number }> = {
  voltage_V: { name: 'Voltage', words: 'Simulated. 10 V a step; Page Up and Page Down move 50 V.', big: 50 },
  flow_nL_min: {
    name: 'Flow',
    words: 'What the pump is told. It takes a few seconds to arrive.',
    big: 50,
  },
  distance_mm: {
    name: 'Distance',
    words: 'Tip to inlet, as the stage shows it. A new distance is solved first: the bench waits a moment.',
    big: 0.5,
  },
  offset_mm: {
    name: 'Offset',
    words: 'Sideways, as the stage shows it: zero need not be the inlet’s axis.',
    big: 0.5,
  },
};

export function TurnedRows({ rehearsal }: { rehearsal: Rehearsal }) {
  const { controls, turn } = rehearsal;
  const set = (name: Turned, value: number) => {
    const { low, high, step } = CONTROL_RANGE[name];
    const stepped = Math.round(value / step) * step;
    turn({ [name]: Number(Math.min(high, Math.max(low, stepped)).toFixed(3)) });
  };
  return (
    <section aria-label="What you turn">
      <ul className="plain turned">
        {TURNED.map((name) => {
          const { low, high, step, unit } = CONTROL_RANGE[name];
          const { name: label, words, big } = ROWS[name];
          const value = controls[name];
          const text = withUnit(given(value), unit);
          return (
            <li key={name}>
              <label htmlFor={`turn-${name}`}>
                <span className="turned-name">{label}</span> <span>{text}</span>
              </label>
              <div className="turned-hands">
                <Button
                  variant="default"
                  aria-label={`${label} down by ${withUnit(given(step), unit)}`}
                  onClick={() => set(name, value - step)}
                >
                  −
                </Button>
                <input
                  id={`turn-${name}`}
                  type="range"
                  min={low}
                  max={high}
                  step={step}
                  value={value}
                  aria-valuetext={text}
                  onChange={(event) => set(name, Number(event.currentTarget.value))}
                  onKeyDown={(event) => {
                    const by = event.key === 'PageUp' ? big : event.key === 'PageDown' ? -big : 0;
                    if (by === 0) return;
                    event.preventDefault();
                    set(name, value + by);
                  }}
                />
                <Button
                  variant="default"
                  aria-label={`${label} up by ${withUnit(given(step), unit)}`}
                  onClick={() => set(name, value + step)}
                >
                  +
                </Button>
              </div>
              <p className="soft">{words}</p>
            </li>
          );
        })}
      </ul>
      <div className="row">
        <Button
          variant="default"
          aria-pressed={controls.high_voltage}
          onClick={() => turn({ high_voltage: !controls.high_voltage })}
        >
          {controls.high_voltage ? 'Switch the high voltage off' : 'Switch the high voltage on'}
        </Button>
        <span>
          The high voltage is <strong>{controls.high_voltage ? 'on' : 'off'}</strong>, simulated.
        </span>
      </div>
    </section>
  );
}
