import { Button } from '@mantine/core';
import { useMutation } from '@tanstack/react-query';
import { memo, useState } from 'react';
import { Link } from 'wouter';
import { keepPlan } from '../api.ts';
import { WhoField } from '../who-field.tsx';
import type { SetupDraft } from './draft.ts';
import type { Seen } from './seen.ts';

export const KeepPlan = memo(function KeepPlan(props: { draft: SetupDraft; seen: Seen; usable: boolean }) {
  const { draft, seen, usable } = props;
  const [who, setWho] = useState('');
  const keep = useMutation({ mutationFn: () => keepPlan(draft, who.trim(), seen) });
  return (
    <div className="row" style={{ alignItems: 'flex-end', marginBottom: '0.75rem' }}>
      <WhoField w={270} value={who} onChange={setWho} />
      <Button onClick={() => keep.mutate()} disabled={!usable} loading={keep.isPending}>
        Keep this plan
      </Button>
      <span role="status">
        {keep.isSuccess && (
          <>
            Kept as <Link href={`/bench/${keep.data.plan_id}`}>{keep.data.plan_id}</Link>.
          </>
        )}
        {keep.isError && <span className="fault">Not kept: {keep.error.message}</span>}
      </span>
    </div>
  );
});
