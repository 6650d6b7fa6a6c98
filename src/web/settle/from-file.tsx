/** Level and scatter of a reading from a run, one ion of it, or a current trace, in place of typing them. */
import { TextInput } from '@mantine/core';
import { useState } from 'react';
import type { LevelRead } from '../../contract/index.ts';
import type { SettleSession } from '../../core/settling/index.ts';
import { FileField } from '../file-field.tsx';
import { saidBy } from '../said-by.ts';
import { figure } from '../words.ts';
import { levelOfRun } from './settle-api.ts';
import { traceFiguresOf } from './trace-figures.ts';

const RUN_NAME = /\.mzx?ml(\.gz)?$/i;

export function FromFile({
  session,
  onLevel,
}: {
  session: SettleSession;
  onLevel: (read: LevelRead) => void;
}) {
  const [ion, setIon] = useState(session.ion ? `${session.ion.mz}±${session.ion.tolerance_ppm}ppm` : '');
  const [said, setSaid] = useState('');
  const [fault, setFault] = useState('');
  const take = async (file: File) => {
    setFault('');
    setSaid(`Reading ${file.name} …`);
    try {
      const read: LevelRead = RUN_NAME.test(file.name)
        ? await levelOfRun(file, ion)
        : await traceFiguresOf(file);
      onLevel(read);
      const { scans, seen } = read;
      const stood = scans === undefined ? '' : ` The ion stands in ${seen} of ${scans} MS1 scans.`;
      setSaid(`${file.name}: level ${figure(read.level)}.${stood} Look at it, then add it.`);
    } catch (trouble) {
      setSaid('');
      setFault(saidBy(trouble));
    }
  };
  return (
    <details open={session.reads !== 'typed'}>
      <summary>Take it from a run or a current trace</summary>
      <div className="fields">
        <TextInput
          label="One ion of the run [m/z ± tolerance]"
          placeholder="all: the whole level"
          autoComplete="off"
          value={ion}
          onChange={(change) => setIon(change.currentTarget.value)}
        />
      </div>
      <FileField
        label="Run (mzML, mzXML) or current trace; it is read and not kept"
        onFile={(file) => void take(file)}
      />
      <p role="status">{said}</p>
      <p role="alert" className="fault">
        {fault}
      </p>
    </details>
  );
}
