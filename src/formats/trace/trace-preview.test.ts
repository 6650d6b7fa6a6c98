import { describe, expect, it } from 'vitest';
import { InputError } from '../../core/errors.ts';
import { OpenQuestionError } from './open-question.ts';
import { tracePreview } from './trace-preview.ts';
import { traceReader } from './trace-reader.ts';
import type { TraceOptions } from './trace-record.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const ask = (text: string, options: TraceOptions = {}) => tracePreview(bytes(text), options);

function read(text: string, options: TraceOptions): string {
  try {
    const reader = traceReader(options, { head: () => undefined, block: () => undefined });
    reader.push(bytes(text));
    reader.end();
    return 'was read';
  } catch (trouble) {
    if (trouble instanceof OpenQuestionError) return trouble.question.about;
    if (trouble instanceof InputError) return 'refused';
    throw trouble;
  }
}

const CLEAR = 'time_s,current_nA\n0,10\n0.5,11\n1,12\n';

describe('a table that says everything', () => {
  it('asks nothing, and shows its rows and what each column is taken for', () => {
    const { questions, beside, faults, table } = ask(CLEAR);
    expect([questions, beside, faults]).toEqual([[], [], []]);
    expect(table!.headings).toEqual(['time_s', 'current_nA']);
    expect(table!.taken).toEqual([
      { column: 0, quantity: 'time', unit: 's' },
      { column: 1, quantity: 'current', unit: 'nA' },
    ]);
    expect(table!.rows[1]).toEqual(['0.5', '11']);
  });
});

describe('a table that leaves something open', () => {
  it('asks for the cells first', () => {
    const { questions, table } = ask('0,5\n0,6\n0,7\n');
    expect(questions).toEqual([
      {
        about: 'way',
        ways: [
          expect.objectContaining({ decimal: 'comma', columns: 1 }),
          { delimiter: 'comma', decimal: 'point', columns: 2 },
        ],
      },
    ]);
    expect(table!.lines).toEqual(['0,5', '0,6', '0,7']);
    expect(table!.taken).toEqual([]);
  });

  it('asks all at once: column of the current and time', () => {
    const { questions } = ask('1;2;3\n2;3;4\n3;4;5\n');
    expect(questions).toEqual([
      { about: 'column', quantity: 'current', candidates: [] },
      { about: 'column', quantity: 'time', candidates: [] },
    ]);
  });

  it.each([
    ['a unit', 'time_s,current\n0,1\n1,2\n', [{ about: 'unit', quantity: 'current', column: 1 }]],
    [
      'two currents',
      'time_s,a_nA,b_nA\n0,1,2\n1,2,3\n',
      [{ about: 'column', quantity: 'current', candidates: [1, 2] }],
    ],
    ['the unit of the time', 'time,current_nA\n0,1\n1,2\n', [{ about: 'unit', quantity: 'time', column: 0 }]],
    ['a resistor', 'time_s,current_mV\n0,1\n1,2\n', [{ about: 'resistor', column: 1 }]],
    [
      'an unknown unit',
      'time_s,current (furlong)\n0,1\n1,2\n',
      [{ about: 'unit', quantity: 'current', column: 1 }],
    ],
  ])('asks for %s', (_, text, questions) => {
    expect(ask(text).questions).toEqual(questions);
  });

  it('mentions a voltage that would be left out without asking for it', () => {
    const { questions, beside } = ask('time_s,current_nA,supply\n0,1,1500\n1,2,1500\n');
    expect(questions).toEqual([]);
    expect(beside).toEqual([{ about: 'unit', quantity: 'voltage', column: 2 }]);
  });

  it('asks nothing more once it is told, and the reader then reads', () => {
    const text = '0,5\n0,6\n0,7\n';
    const told: TraceOptions = { delimiter: 'comma', decimal: 'point', column: '2', unit: 'nA', rate_Hz: 10 };
    expect(ask(text, told).questions).toEqual([]);
    expect(read(text, told)).toBe('was read');
  });

  it('asks exactly where the reader refuses', () => {
    const texts = [
      CLEAR,
      '0,5\n0,6\n0,7\n',
      'time_s,current\n0,1\n1,2\n',
      'time_s,a_nA,b_nA\n0,1,2\n1,2,3\n',
      'current_nA\n1\n2\n',
      'time_s,current_mV\n0,1\n1,2\n',
    ];
    for (const text of texts) {
      const first = ask(text).questions[0];
      expect(read(text, {})).toBe(first === undefined ? 'was read' : first.about);
    }
  });
});

it('asks a WAV file for its scale and its channel', () => {
  const view = new DataView(new ArrayBuffer(48));
  [...'RIFF....WAVEfmt '].forEach((c, i) => {
    view.setUint8(i, c.charCodeAt(0));
  });
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 2, true);
  view.setUint32(24, 48000, true);
  view.setUint16(34, 16, true);
  const preview = (options: TraceOptions) => tracePreview(new Uint8Array(view.buffer), options).questions;
  expect(preview({})).toEqual([{ about: 'full scale' }, { about: 'channel', channels: 2 }]);
  expect(preview({ full_scale_nA: 100, column: '1' })).toEqual([]);
});

it('refuses what is no trace', () => {
  expect(ask('hello\nworld\n').faults[0]!.where).toBe('trace file');
  expect(ask('').faults[0]!.where).toBe('samples');
});
