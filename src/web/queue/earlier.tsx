import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { earlierOf } from '../api.ts';

/** Each file of the queue against the good files before it; asked for, since it reads every kept reading again. */
export function Earlier({ label }: { label: string }) {
  const [asked, setAsked] = useState(false);
  const told = useQuery({
    queryKey: ['queues', label, 'earlier'],
    queryFn: () => earlierOf(label),
    enabled: asked,
  });
  return (
    <section className="section" aria-labelledby="earlier">
      <h2 id="earlier">Each file against the good files before it</h2>
      <p>
        The ratio to good runs of the same method stays flat, whatever elutes; a step, a slow clog or a loss
        bends it.
      </p>
      {!asked && (
        <Button variant="default" onClick={() => setAsked(true)}>
          Compare the files
        </Button>
      )}
      <div role="status">
        {asked && told.isPending && <p>Comparing the files.</p>}
        {told.isError && <p className="fault">{told.error.message}</p>}
        {told.data && (
          <ul>
            {told.data.files.map(({ name, sentence }) => (
              <li key={name}>{sentence}</li>
            ))}
          </ul>
        )}
      </div>
    </section>
  );
}
