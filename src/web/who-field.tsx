import { TextInput } from '@mantine/core';

/** Who did it, as stored with what is kept; may stay empty. */
export function WhoField(props: {
  value: string;
  onChange: (who: string) => void;
  mt?: string;
  maw?: number;
  w?: number;
}) {
  const { onChange, ...place } = props;
  return (
    <TextInput
      {...place}
      label="Your name or initials (optional)"
      autoComplete="off"
      maxLength={80}
      onChange={(event) => onChange(event.currentTarget.value)}
    />
  );
}
