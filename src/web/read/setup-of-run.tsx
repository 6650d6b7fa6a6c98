/** The set-up a run is read with: none, one of the bench, or one from a file. Asked before the run, which is read as it arrives. */
import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { inputError } from '../../core/errors.ts';
import { benchItems } from '../api.ts';
import type { SetupDraft } from '../plan/draft.ts';
import { SetupLoader } from '../plan/setup-loader.tsx';

export type ChosenSetup =
  /** `id` '' is none. */
  { kind: 'bench'; id: string } | { kind: 'file'; document: SetupDraft; name: string };

const FROM_FILE = 'file';

export function SetupOfRun({
  chosen,
  onChosen,
}: {
  chosen: ChosenSetup;
  onChosen: (chosen: ChosenSetup) => void;
}) {
  const setups = useQuery({ queryKey: ['bench', 'setup', ''], queryFn: () => benchItems('setup', '') });
  const items = setups.data?.items ?? [];
  // An id of the address that the bench does not list is shown as it is; the server says what is wrong with it.
  const strange =
    chosen.kind === 'bench' && chosen.id !== '' && !items.some(({ id }) => id === chosen.id)
      ? [chosen.id]
      : [];
  return (
    <div style={{ marginBottom: '1rem' }}>
      <NativeSelect
        label="Set-up of this run, if you have it"
        description="Its gradient tells injection, wash and re-equilibration; they are left out of the verdict and judged apart."
        value={chosen.kind === 'file' ? FROM_FILE : chosen.id}
        data={[
          { value: '', label: 'none' },
          ...(chosen.kind === 'file' ? [{ value: FROM_FILE, label: `${chosen.name}, from a file` }] : []),
          ...strange.map((id) => ({ value: id, label: id })),
          ...items.map(({ id, title }) => ({ value: id, label: `${title} (${id})` })),
        ]}
        onChange={(event) => {
          const id = event.currentTarget.value;
          if (id !== FROM_FILE) onChosen({ kind: 'bench', id });
        }}
      />
      <SetupLoader
        fileLabel="Set-up file"
        pasteLabel="A set-up from a file"
        buttonLabel="Use this set-up"
        onSetup={({ document, setup }) => {
          if (setup.gradient === undefined)
            throw inputError(
              'missing',
              'gradient',
              setup.name ?? 'this set-up',
              'a set-up with a gradient table',
            );
          onChosen({ kind: 'file', document, name: setup.name ?? 'a set-up without a name' });
        }}
      />
    </div>
  );
}
