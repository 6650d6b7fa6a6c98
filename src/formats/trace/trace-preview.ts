/**
 * What a trace file says by itself before it is read: its first rows, what each column was taken for, and every question it leaves open. The same
 * rules as the reader's, asked all at once instead of one refusal after the other.
 */
import { type Fault, InputError } from '../../core/errors.ts';
import { type OpenQuestion, OpenQuestionError } from './open-question.ts';
import { rowCells } from './table-cells.ts';
import { columnOf, currentColumn, type TableColumn, timeColumn } from './table-columns.ts';
import { layoutOf, type TableLayout, tableLayout } from './table-layout.ts';
import { type ReadWay, tableWays } from './table-ways.ts';
import { traceKind } from './trace-kind.ts';
import type { TraceKind, TraceOptions, TraceQuantity } from './trace-record.ts';
import { linesOf } from './trace-text.ts';
import { utf8Head } from './utf16-text.ts';
import { wavFormat } from './wav-format.ts';

export interface TracePreview {
  kind: TraceKind;
  /** A table by the first way it can be read; undefined for samples. */
  table?: PreviewTable;
  /** Without an answer the file is not read. */
  questions: OpenQuestion[];
  /** A voltage or pressure that would be left out. */
  beside: OpenQuestion[];
  /** What no answer mends. */
  faults: Fault[];
}

export interface PreviewTable {
  way: ReadWay;
  headings: string[];
  /** What each column is taken for, by its number from 0. */
  taken: { column: number; quantity: TraceQuantity | 'time'; unit: string }[];
  /** The first rows, as written. */
  rows: string[][];
  /** The same first lines, uncut. */
  lines: string[];
}

const ROWS_SHOWN = 5;

/** From the first bytes of a file, 32 kB or the `whole` of a shorter one. Raw samples are told by their sidecar alone and not asked for here. */
export function tracePreview(bytes: Uint8Array, options: TraceOptions, whole = true): TracePreview {
  const preview: TracePreview = { kind: 'table', questions: [], beside: [], faults: [] };
  try {
    const plain = utf8Head(bytes);
    preview.kind = traceKind(plain);
    if (preview.kind === 'wav') wavQuestions(bytes, options, preview);
    else tableQuestions(linesOf(plain, whole), options, preview);
  } catch (trouble) {
    if (!(trouble instanceof InputError)) throw trouble;
    preview.faults.push(...trouble.faults);
  }
  return preview;
}

function wavQuestions(bytes: Uint8Array, options: TraceOptions, { questions }: TracePreview): void {
  const channels = wavFormat(bytes)?.channels ?? 1;
  if (options.full_scale_nA === undefined) questions.push({ about: 'full scale' });
  if (channels > 1 && options.column === undefined) questions.push({ about: 'channel', channels });
}

function tableQuestions(lines: readonly string[], options: TraceOptions, preview: TracePreview): void {
  const ask = <T>(into: OpenQuestion[], work: () => T): T | undefined => {
    try {
      return work();
    } catch (trouble) {
      if (!(trouble instanceof OpenQuestionError)) throw trouble;
      into.push(trouble.question);
      return undefined;
    }
  };
  const ways = tableWays(lines, options);
  const layout = ask(preview.questions, () => tableLayout(lines, options, ways));
  const way = ways[0]!;
  if (layout === undefined) {
    // Columns mean nothing before the cells are known.
    preview.table = previewTable(lines, way, layoutOf(lines, way), {});
    return;
  }
  const { questions, beside } = preview;
  const current = ask(questions, () => currentColumn(layout, options));
  const used = current ? [current.index] : [];
  const time = ask(questions, () => timeColumn(layout, options, used));
  if (time) used.push(time.index);
  const voltage = ask(beside, () => columnOf(layout, 'voltage', options, used));
  const pressure = ask(beside, () => columnOf(layout, 'pressure', options, used));
  preview.table = previewTable(lines, way, layout, { time, current, voltage, pressure });
}

function previewTable(
  lines: readonly string[],
  way: ReadWay,
  layout: TableLayout,
  columns: Partial<Record<TraceQuantity | 'time', TableColumn | undefined>>,
): PreviewTable {
  const shown = lines.slice(way.first, way.first + ROWS_SHOWN).filter((line) => line.trim() !== '');
  return {
    way,
    headings: Array.from({ length: layout.columns }, (_, i) => layout.headings[i]?.text || `column ${i + 1}`),
    taken: (['time', 'current', 'voltage', 'pressure'] as const).flatMap((quantity) => {
      const column = columns[quantity];
      return column ? [{ column: column.index, quantity, unit: column.unit }] : [];
    }),
    rows: shown.map((line) => rowCells(line, way.delimiter).map((cell) => cell.trim())),
    lines: shown,
  };
}
