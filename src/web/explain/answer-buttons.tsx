import { Button } from '@mantine/core';
import type { Observable } from '../../core/causes/index.ts';

/** Every answer as a button wide enough for a glove; 'cannot see' is always one of them. */
export function AnswerButtons(props: {
  observable: Observable;
  onAnswer: (outcome: string) => void;
  onCannot: () => void;
  /** While the last answer is being weighed: a second press would answer the same question again. */
  busy: boolean;
}) {
  const { outcomes, yes } = props.observable;
  const ordered =
    yes === undefined ? outcomes : [...outcomes].sort((a, b) => Number(b.id === yes) - Number(a.id === yes));
  const label = (id: string, words: string) => {
    if (yes === undefined) return words;
    const said = id === yes ? 'Yes' : 'No';
    return /^(yes|no)\b/i.test(words)
      ? words.replace(/^./, (letter) => letter.toUpperCase())
      : `${said}: ${words}`;
  };
  return (
    <div className="answers">
      {ordered.map(({ id, words }) => (
        <Button key={id} variant="default" disabled={props.busy} onClick={() => props.onAnswer(id)}>
          {label(id, words)}
        </Button>
      ))}
      <Button variant="default" className="cannot" disabled={props.busy} onClick={props.onCannot}>
        Cannot see
      </Button>
    </div>
  );
}
