import { Button, Textarea } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { keepNote } from '../api.ts';
import { WhoField } from '../who-field.tsx';

/** A dated event on an emitter, a set-up or a run: 'new tip', 'bottle changed'. */
export function NoteForm({ on }: { on: string }) {
  const queries = useQueryClient();
  const [text, setText] = useState('');
  const [who, setWho] = useState('');
  const [missing, setMissing] = useState(false);
  const keep = useMutation({
    mutationFn: () => keepNote({ on, text: text.trim(), who: who.trim() }),
    onSuccess: async () => {
      setText('');
      await queries.invalidateQueries({ queryKey: ['bench'] });
    },
  });
  return (
    <form
      style={{ maxWidth: '40rem' }}
      onSubmit={(event) => {
        event.preventDefault();
        setMissing(text.trim() === '');
        if (text.trim() !== '') keep.mutate();
      }}
    >
      <Textarea
        label="What happened"
        placeholder="new tip, bottle changed"
        autosize
        minRows={2}
        maxLength={2000}
        value={text}
        error={missing ? 'missing; expected a few words' : undefined}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <WhoField mt="sm" maw={320} value={who} onChange={setWho} />
      <div className="row" style={{ marginTop: '0.8rem' }}>
        <Button type="submit" loading={keep.isPending}>
          Keep the note
        </Button>
        <span role="status">
          {keep.isSuccess && 'Kept.'}
          {keep.isError && <span className="fault">Not kept: {keep.error.message}</span>}
        </span>
      </div>
    </form>
  );
}
