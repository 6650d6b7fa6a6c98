/** A small table as its lines: comma, semicolon or tab between the cells, blank lines and those that begin with # passed over. */
export interface TableLines {
  /** Line number in the file, from 1; undefined where there is no line at all. */
  head: { cells: string[]; number: number } | undefined;
  rows: { cells: string[]; number: number }[];
  separator: ',' | ';' | '\t';
}

export function tableLines(text: string): TableLines {
  const lines = text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ line: line.trim(), number: i + 1 }))
    .filter(({ line }) => line !== '' && !line.startsWith('#'));
  const first = lines[0]?.line ?? '';
  const separator = first.includes(';') ? ';' : first.includes('\t') ? '\t' : ',';
  const [head, ...rows] = lines.map(({ line, number }) => ({
    cells: line.split(separator).map((cell) => cell.trim().replace(/^"|"$/g, '')),
    number,
  }));
  return { head, rows, separator };
}

/** A number of a cell; a decimal comma is read where the comma does not part the cells. NaN where it is none. */
export function cellNumber(cell: string | undefined, separator: TableLines['separator']): number {
  if (cell === undefined || cell === '') return Number.NaN;
  return Number(separator === ',' ? cell : cell.replace(',', '.'));
}
