/**
 * What a trace file leaves open, as a refusal that knows its question: the command line prints its one line with the option that answers it, the page
 * asks it beside the first rows. Nothing open is ever settled by a guess.
 */
import { type FaultKind, InputError } from '../../core/errors.ts';
import type { DelimiterName, TraceQuantity } from './trace-record.ts';

export type OpenQuestion =
  /** The same lines give different numbers. */
  | { about: 'way'; ways: TableWay[] }
  | { about: 'column'; quantity: TraceQuantity | 'time'; candidates: number[] }
  | { about: 'unit'; quantity: TraceQuantity | 'time'; column: number }
  /** The current's column is a voltage. */
  | { about: 'resistor'; column: number }
  /** Raw samples: what one stored step of the current is worth. */
  | { about: 'step'; unit: string }
  /** WAV: the current at full scale, and which channel. */
  | { about: 'full scale' }
  | { about: 'channel'; channels: number };

export interface TableWay {
  delimiter: DelimiterName;
  decimal: 'point' | 'comma';
  columns: number;
}

export class OpenQuestionError extends InputError {
  readonly question: OpenQuestion;
  constructor(question: OpenQuestion, kind: FaultKind, where: string, found: string, expected: string) {
    super([{ kind, where, found, expected }]);
    this.question = question;
  }
}
