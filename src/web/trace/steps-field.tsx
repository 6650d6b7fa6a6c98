/** Steps of a walk: typed or pasted, or the text of a small file. */
import { Textarea } from '@mantine/core';
import { useState } from 'react';
import { FileField } from '../file-field.tsx';

export interface StepsFieldProps {
  label: string;
  placeholder: string;
  fileLabel: string;
  text: string;
  onText: (text: string, name: string) => void;
}

const BYTES_MAX = 1 << 20;

export function StepsField({ label, placeholder, fileLabel, text, onText }: StepsFieldProps) {
  const [fault, setFault] = useState('');
  const take = async (file: File) => {
    const fits = file.size <= BYTES_MAX;
    setFault(fits ? '' : `${file.name} is larger than 1 MB: no table of steps.`);
    if (fits) onText(await file.text(), file.name);
  };
  return (
    <>
      <Textarea
        label={label}
        placeholder={placeholder}
        autosize
        minRows={2}
        maxRows={10}
        value={text}
        onChange={(event) => onText(event.currentTarget.value, 'typed steps')}
      />
      <div style={{ margin: '0.5rem 0' }}>
        <FileField
          label={fileLabel}
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          onFile={(file) => void take(file)}
        />
      </div>
      <p role="status" className="fault">
        {fault}
      </p>
    </>
  );
}
