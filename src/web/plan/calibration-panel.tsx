/** What was seen on this emitter: add, list, load and save observations; before and after of what was not known. */
import { Button, Checkbox, NativeSelect, TextInput } from '@mantine/core';
import { memo, useState } from 'react';
import { observationsFrom } from '../../contract/index.ts';
import type { PlanCalibration } from '../../core/plan/calibration.ts';
import { type Observation, REGIMES_SEEN, type RegimeSeen } from '../../core/window/index.ts';
import { FileField } from '../file-field.tsx';
import { saidBy } from '../said-by.ts';
import { saveJson } from '../save.ts';
import { StackedTable } from '../stacked-table.tsx';
import { figure, withUnit } from '../words.ts';
import { typedNumber } from './draft.ts';
import type { Seen } from './seen.ts';

export interface CalibrationPanelProps {
  seen: Seen;
  onChange: (observations: readonly Observation[]) => void;
  /** The plan is for another emitter of the same batch. */
  onSibling: (sibling: boolean) => void;
  calibration: PlanCalibration | undefined;
}

const EMPTY = { volts: '', at: 'tip_V', seen: 'steady', apex: '', current: '' };

export const CalibrationPanel = memo(function CalibrationPanel({
  seen: { observations, sibling },
  onChange,
  onSibling,
  calibration,
}: CalibrationPanelProps) {
  const [typed, setTyped] = useState(EMPTY);
  const [fault, setFault] = useState('');
  const change = (key: keyof typeof EMPTY) => (event: { currentTarget: { value: string } }) =>
    setTyped({ ...typed, [key]: event.currentTarget.value });
  const take = (document: unknown, before: readonly Observation[]) => {
    try {
      onChange([...before, ...observationsFrom(document)]);
      setFault('');
      return true;
    } catch (trouble) {
      setFault(saidBy(trouble));
      return false;
    }
  };
  const add = () => {
    const seen = {
      [typed.at]: typedNumber(typed.volts),
      seen: typed.seen as RegimeSeen,
      apex_height_um: typedNumber(typed.apex),
      current_nA: typedNumber(typed.current),
    };
    if (take({ observations: [seen] }, observations)) setTyped(EMPTY);
  };
  const load = async (file: File) => {
    try {
      // The reader is fetched only when a file is read.
      const { parse } = await import('yaml');
      take(parse(await file.text()), []);
    } catch {
      setFault(
        `invalid observation file: ${file.name}; expected YAML or JSON as walks and this panel save it`,
      );
    }
  };
  return (
    <div className="section" data-panel="calibration">
      <h2>What you saw on this emitter</h2>
      <p>
        Each voltage with what the spray did there narrows the plan, for this liquid and for others. No
        voltage is set from here.
      </p>
      <div className="fields">
        <TextInput
          label="Voltage [V]"
          inputMode="decimal"
          autoComplete="off"
          value={typed.volts}
          onChange={change('volts')}
        />
        <NativeSelect
          label="Read at"
          value={typed.at}
          onChange={change('at')}
          data={[
            { value: 'tip_V', label: 'the tip' },
            { value: 'supply_V', label: 'the supply' },
          ]}
        />
        <NativeSelect
          label="Seen there"
          value={typed.seen}
          onChange={change('seen')}
          data={[...REGIMES_SEEN]}
        />
        <TextInput
          label="Apex height [µm]"
          placeholder="not seen"
          autoComplete="off"
          value={typed.apex}
          onChange={change('apex')}
        />
        <TextInput
          label="Current [nA]"
          placeholder="not read"
          autoComplete="off"
          value={typed.current}
          onChange={change('current')}
        />
      </div>
      <div className="row">
        <Button onClick={add}>Add what was seen</Button>
        <Button
          variant="default"
          disabled={observations.length === 0}
          onClick={() => saveJson('steadycone-observations.json', { observations })}
        >
          Observations as JSON
        </Button>
        <FileField
          label="Load observations"
          accept=".json,.yaml,.yml,application/json"
          onFile={(file) => void load(file)}
        />
      </div>
      <p role="status" className="fault">
        {fault}
      </p>
      <ul>
        {observations.map((seen, k) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the same may be seen twice; the list only grows or loses one
          <li key={k}>
            {seen.tip_V !== undefined
              ? `${withUnit(figure(seen.tip_V), 'V')} at the tip`
              : `${withUnit(figure(seen.supply_V), 'V')} at the supply`}
            : {seen.seen}
            {seen.apex_height_um === undefined ? '' : `, apex ${figure(seen.apex_height_um)} µm`}
            {seen.current_nA === undefined ? '' : `, ${figure(seen.current_nA)} nA`}{' '}
            <Button
              variant="subtle"
              size="compact-md"
              onClick={() => onChange(observations.filter((_, i) => i !== k))}
            >
              Remove
            </Button>
          </li>
        ))}
      </ul>
      {observations.length > 0 && (
        <Checkbox
          size="2.75rem"
          className="yes"
          checked={sibling}
          label="The plan is for a sibling: another emitter of the same batch"
          onChange={(event) => onSibling(event.currentTarget.checked)}
        />
      )}
      {calibration && <BeforeAfter calibration={calibration} />}
    </div>
  );
});

function BeforeAfter({ calibration }: { calibration: PlanCalibration }) {
  return (
    <>
      <StackedTable
        name="before-after"
        columns={['not known', 'before', 'after']}
        rows={calibration.unknowns.map(({ name, unit, before, after }) => ({
          key: name,
          cells: [
            `${name} [${unit}]`,
            `${figure(before.low)} to ${figure(before.high)}`,
            `${figure(after.low)} to ${figure(after.high)}`,
          ],
        }))}
      />
      <ul>
        {calibration.sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </>
  );
}
