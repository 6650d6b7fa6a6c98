/** A set-up from a file or from pasted text; what is wrong with it is said here and nothing is taken. */
import { Button, Textarea } from '@mantine/core';
import { memo, useId, useState } from 'react';
import type { Setup } from '../../core/setup.ts';
import { FileField } from '../file-field.tsx';
import type { SetupDraft } from './draft.ts';
import { setupFromText, troubleText } from './setup-text.ts';

export interface SetupLoaderProps {
  fileLabel: string;
  pasteLabel: string;
  buttonLabel: string;
  onSetup: (loaded: { document: SetupDraft; setup: Setup }) => Promise<void> | void;
}

export const SetupLoader = memo(function SetupLoader({
  fileLabel,
  pasteLabel,
  buttonLabel,
  onSetup,
}: SetupLoaderProps) {
  const [text, setText] = useState('');
  const [fault, setFault] = useState('');
  const faultId = useId();
  const take = async (from: () => Promise<string>) => {
    try {
      await onSetup(await setupFromText(await from()));
      setFault('');
    } catch (trouble) {
      setFault(troubleText(trouble));
    }
  };
  return (
    <details>
      <summary>{pasteLabel}</summary>
      <FileField
        label={fileLabel}
        accept=".yaml,.yml,.json,application/json"
        onFile={(file) => void take(() => file.text())}
      />
      <Textarea
        label="or paste its text here"
        autosize
        minRows={4}
        maxRows={14}
        value={text}
        aria-describedby={faultId}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <div className="row" style={{ marginTop: '0.75rem' }}>
        <Button variant="default" onClick={() => void take(() => Promise.resolve(text))}>
          {buttonLabel}
        </Button>
      </div>
      <p role="status" id={faultId} className="fault">
        {fault}
      </p>
    </details>
  );
});
