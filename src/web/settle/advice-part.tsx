/** The next step in one sentence with its question, and the reading typed back with one hand. */
import { Button, Checkbox, TextInput } from '@mantine/core';
import { useState } from 'react';
import type { SettleOpen } from '../../contract/index.ts';
import { EVENTS, type SettlePoint, STATES_SEEN, type StateSeen } from '../../core/settling/index.ts';
import { typedNumber } from '../plan/draft.ts';
import { saidBy } from '../said-by.ts';
import { AXIS_NAMES, movable } from './axis-names.ts';
import { FromFile } from './from-file.tsx';
import { addReading } from './settle-api.ts';

export interface AdvicePartProps {
  open: SettleOpen;
  onNext: (next: SettleOpen) => void;
}

export function AdvicePart({ open, onNext }: AdvicePartProps) {
  const { advice, session } = open;
  const [yes, setYes] = useState(!advice.asks_for_yes);
  return (
    <section className="section" aria-label="Next step">
      <div role="status">
        <h2 className="next-step">{advice.sentence}</h2>
      </div>
      {advice.cautions.map((caution) => (
        <p key={caution} className="caution">
          {caution}
        </p>
      ))}
      {advice.asks_for_yes && (
        <Checkbox
          size="2.75rem"
          className="yes"
          checked={yes}
          label={advice.question ?? 'Hands clear of the source?'}
          onChange={(event) => setYes(event.currentTarget.checked)}
        />
      )}
      <ReadingForm open={open} onNext={onNext} ready={yes} />
      <p className="soft">
        {session.readings.length} readings so far. The expected gain of another is{' '}
        {advice.expected_gain_percent.toPrecision(2)} %, the noise of one{' '}
        {advice.noise_percent.toPrecision(2)} %. The search rests on {advice.rests_on}.
      </p>
    </section>
  );
}

function ReadingForm({ open, onNext, ready }: AdvicePartProps & { ready: boolean }) {
  const { advice, session } = open;
  const [level, setLevel] = useState('');
  const [scatter, setScatter] = useState('');
  const [seen, setSeen] = useState<readonly StateSeen[]>([]);
  const [event, setEvent] = useState<(typeof EVENTS)[number] | ''>('');
  const [at, setAt] = useState<Partial<Record<keyof SettlePoint, string>>>({});
  const [fault, setFault] = useState('');
  const [sending, setSending] = useState(false);
  const moved = movable(session);
  const send = async () => {
    const point: SettlePoint = { ...advice.to };
    for (const axis of moved) {
      const text = at[axis];
      if (text === undefined || text === '') continue;
      const value = typedNumber(text);
      if (typeof value !== 'number')
        return setFault(`invalid ${AXIS_NAMES[axis].name}: ${text}; expected a number`);
      point[axis] = value;
    }
    const value = typedNumber(level);
    if (typeof value !== 'number' || value < 0)
      return setFault(`invalid level: ${level === '' ? 'empty' : level}; expected a number, 0 for no signal`);
    const spread = typedNumber(scatter);
    if (scatter !== '' && (typeof spread !== 'number' || spread < 0))
      return setFault(`invalid scatter: ${scatter}; expected percent, or nothing`);
    setSending(true);
    try {
      onNext(
        await addReading(open.id, {
          at: point,
          level: value,
          ...(typeof spread === 'number' ? { scatter_percent: spread } : {}),
          ...(seen.length > 0 ? { seen: [...seen] } : {}),
          ...(event === '' ? {} : { event }),
        }),
      );
    } catch (trouble) {
      setFault(saidBy(trouble));
      setSending(false);
    }
  };
  return (
    <form
      onSubmit={(submit) => {
        submit.preventDefault();
        void send();
      }}
    >
      <div className="fields">
        <TextInput
          size="lg"
          label="Level read there"
          inputMode="decimal"
          autoComplete="off"
          value={level}
          onChange={(change) => setLevel(change.currentTarget.value)}
        />
        <TextInput
          size="lg"
          label="Scatter [%]"
          placeholder="not read"
          inputMode="decimal"
          autoComplete="off"
          value={scatter}
          onChange={(change) => setScatter(change.currentTarget.value)}
        />
      </div>
      <FromFile
        session={session}
        onLevel={(read) => {
          setLevel(String(read.level));
          setScatter(read.scatter_percent === undefined ? '' : String(read.scatter_percent));
        }}
      />
      <fieldset className="chips">
        <legend className="chips-name">What you saw; nothing chosen means steady or not seen</legend>
        {STATES_SEEN.map((state) => (
          <Button
            key={state}
            size="md"
            variant={seen.includes(state) ? 'filled' : 'default'}
            aria-pressed={seen.includes(state)}
            onClick={() =>
              setSeen(seen.includes(state) ? seen.filter((one) => one !== state) : [...seen, state])
            }
          >
            {seen.includes(state) ? '✓ ' : ''}
            {state}
          </Button>
        ))}
      </fieldset>
      <fieldset className="chips">
        <legend className="chips-name">Something sudden? It is then not learned from</legend>
        {EVENTS.map((one) => (
          <Button
            key={one}
            size="md"
            variant={event === one ? 'filled' : 'default'}
            aria-pressed={event === one}
            onClick={() => setEvent(event === one ? '' : one)}
          >
            {event === one ? '✓ ' : ''}
            {one}
          </Button>
        ))}
      </fieldset>
      <details>
        <summary>I set something else</summary>
        <div className="fields">
          {moved.map((axis) => (
            <TextInput
              key={axis}
              label={`${AXIS_NAMES[axis].name} [${AXIS_NAMES[axis].unit}]`}
              placeholder={String(advice.to[axis])}
              inputMode="decimal"
              autoComplete="off"
              value={at[axis] ?? ''}
              onChange={(change) => setAt({ ...at, [axis]: change.currentTarget.value })}
            />
          ))}
        </div>
      </details>
      <p role="alert" className="fault">
        {fault}
      </p>
      <Button type="submit" size="lg" fullWidth disabled={!ready} loading={sending}>
        {ready ? 'Add the reading' : 'First say yes above'}
      </Button>
    </form>
  );
}
