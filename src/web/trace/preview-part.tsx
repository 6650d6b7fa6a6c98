/**
 * Before a trace is read that does not say everything: its first rows, what each column is taken for, and a field for each question that is open,
 * for none else. A question stays once asked, so that an answer can be changed.
 */
import { Button } from '@mantine/core';
import { useRef } from 'react';
import type { OpenQuestion, PreviewTable, TracePreview } from '../../formats/trace/index.ts';
import { pageWords } from './page-words.ts';
import { QuestionField } from './question-field.tsx';
import { questionKey, type Typed } from './trace-told.ts';

export interface PreviewPartProps {
  name: string;
  preview: TracePreview;
  typed: Typed;
  onChange: (typed: Typed) => void;
  onRead: () => void;
}

export function PreviewPart({ name, preview, typed, onChange, onRead }: PreviewPartProps) {
  const asked = useRef(new Map<string, OpenQuestion>());
  for (const question of [...preview.questions, ...preview.beside])
    asked.current.set(questionKey(question), question);
  const open = preview.questions.length;
  return (
    <section className="section" aria-label="Before it is read">
      <h2>
        {name}:{' '}
        {open === 0
          ? 'nothing is open any more'
          : open === 1
            ? 'one thing to settle'
            : `${open} things to settle`}
      </h2>
      <p>
        Nothing is guessed. {preview.table ? 'These are its first rows.' : 'The file does not say it itself.'}
      </p>
      {preview.table && <FirstRows table={preview.table} asked={[...preview.questions, ...preview.beside]} />}
      <div className="fields" style={{ maxWidth: '52rem', marginTop: '1rem' }}>
        {[...asked.current].map(([key, question]) => (
          <QuestionField
            key={key}
            question={question}
            headings={preview.table?.headings ?? []}
            typed={typed}
            onChange={onChange}
          />
        ))}
      </div>
      {preview.beside.length > 0 && (
        <p className="soft">
          Unless it is told, this is left out:{' '}
          {preview.beside.map((question) => ('quantity' in question ? question.quantity : '')).join(' and ')}.
          A voltage walk needs the voltage.
        </p>
      )}
      {preview.faults.map((fault) => (
        <p key={fault.where} className="fault" role="alert">
          {pageWords(`${fault.where}: ${fault.found}; expected ${fault.expected}`)}
        </p>
      ))}
      <div className="row">
        <Button onClick={onRead} disabled={open > 0 || preview.faults.length > 0}>
          Read the trace
        </Button>
        {open > 0 && <span className="soft">Answer what is open above; then it can be read.</span>}
      </div>
    </section>
  );
}

/** A box that scrolls must be reached by keys. */
const REACHED = { tabIndex: 0 };

function FirstRows({ table, asked }: { table: PreviewTable; asked: readonly OpenQuestion[] }) {
  if (asked[0]?.about === 'way')
    return (
      <section className="sheet scroll first-lines" {...REACHED} aria-label="First lines as written">
        <pre>{table.lines.join('\n')}</pre>
      </section>
    );
  return (
    <section className="scroll" {...REACHED} aria-label="First rows">
      <table>
        <thead>
          <tr>
            {table.headings.map((heading, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a column's number is its name
              <th key={k} scope="col">
                {heading}
                <br />
                <span className="soft">{takenText(table, k, asked)}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row, r) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a row's number is its name
            <tr key={r}>
              {row.map((cell, k) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: a column's number is its name
                <td key={k}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function takenText({ taken }: PreviewTable, column: number, asked: readonly OpenQuestion[]): string {
  const found = taken.find((one) => one.column === column);
  if (found) return `${found.quantity}, ${found.unit}`;
  return asked.some((question) => concerns(question, column)) ? 'asked below' : 'not taken';
}

function concerns(question: OpenQuestion, column: number): boolean {
  if (question.about === 'column')
    return question.candidates.length === 0 || question.candidates.includes(column);
  return 'column' in question && question.column === column;
}
