/** What a person says at the end of a blind round. */
import { Button, NativeSelect } from '@mantine/core';
import { useState } from 'react';
import { faultsFor, rehearsalSetup, rehearsedFaultName, UNSAID } from '../../rehearsal/index.ts';

/** The faults that this page plays, by family. */
export const FAULT_GROUPS = [...new Set(faultsFor(rehearsalSetup.polarity).map(({ family }) => family))].map(
  (family) => ({
    group: family,
    items: faultsFor(rehearsalSetup.polarity)
      .filter((fault) => fault.family === family)
      .map(({ id, name }) => ({ value: id, label: name })),
  }),
);

export function SayAndShow({ readings, onSay }: { readings: number; onSay: (fault: string) => void }) {
  const [fault, setFault] = useState('');
  return (
    <section className="section" aria-label="Say and show">
      <h2>When you have found it</h2>
      <p>
        Leave the bench at your working point, name the fault, and see. Your signal is judged by its mean
        since you turned the last knob; {readings === 1 ? 'one reading' : `${readings} readings`} counted so
        far.
      </p>
      <p>
        The{' '}
        <a href="/explain/guide" target="_blank" rel="noreferrer">
          fault guide
        </a>{' '}
        tells what each fault does. It opens beside this page; the bench waits meanwhile.
      </p>
      <div className="row" style={{ alignItems: 'end' }}>
        <NativeSelect
          label="What is wrong with this emitter?"
          value={fault}
          onChange={(event) => setFault(event.currentTarget.value)}
          data={[
            { value: '', label: 'choose' },
            { value: 'none', label: rehearsedFaultName('none') },
            { value: UNSAID, label: 'I do not know' },
            ...FAULT_GROUPS,
          ]}
        />
        <Button disabled={fault === ''} onClick={() => onSay(fault)}>
          Show the truth
        </Button>
      </div>
    </section>
  );
}
