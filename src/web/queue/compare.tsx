import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { comparisonOf, queueLabels } from '../api.ts';

/** This queue's emitter against another's, by whichever queue is chosen. */
export function Compare({ label }: { label: string }) {
  const [other, setOther] = useState('');
  const labels = useQuery({ queryKey: ['queues'], queryFn: queueLabels });
  const others = (labels.data?.queues ?? []).map((queue) => queue.label).filter((name) => name !== label);
  const comparison = useQuery({
    queryKey: ['queues', label, 'against', other],
    queryFn: () => comparisonOf(label, other),
    enabled: other !== '',
  });
  if (others.length === 0) return null;
  return (
    <section className="section" aria-labelledby="compare">
      <h2 id="compare">Compared with another emitter</h2>
      <NativeSelect
        label="The other queue"
        value={other}
        data={[{ value: '', label: 'choose one' }, ...others.map((name) => ({ value: name, label: name }))]}
        onChange={(event) => setOther(event.currentTarget.value)}
        maw={420}
        mb="sm"
      />
      {comparison.isError && <p className="fault">{comparison.error.message}</p>}
      <div role="status">
        {comparison.data && (
          <ul>
            {[...comparison.data.differences.map((one) => one.sentence), ...comparison.data.cautions].map(
              (line) => (
                <li key={line}>{line}</li>
              ),
            )}
          </ul>
        )}
      </div>
    </section>
  );
}
