/** A table of plain texts; on a narrow screen each row becomes a block, its cells named by their columns. */
export interface StackedTableProps {
  columns: readonly string[];
  rows: readonly { key: string | number; cells: readonly string[] }[];
  /** Its `data-table`. */
  name?: string;
}

export function StackedTable({ columns, rows, name }: StackedTableProps) {
  return (
    <table className="stacked" data-table={name}>
      <thead>
        <tr>
          {columns.map((column) => (
            <th key={column} scope="col">
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ key, cells }) => (
          <tr key={key}>
            {columns.map((column, k) => (
              <td key={column} data-label={column}>
                {cells[k]}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
