import type { ReactNode } from 'react'

export interface Column<Row> {
  head: ReactNode
  cell: (row: Row) => ReactNode
  num?: boolean
  /** The cell that names its row. */
  names?: boolean
  nowrap?: boolean
  /** Said before the cell where the table folds on a phone. */
  short?: string
}

/** A ruled book. `caption` may be for a screen reader only, where a heading already says it. */
export function Table<Row>({
  caption,
  hideCaption,
  columns,
  rows,
  id,
  className = 'folds',
}: {
  caption: string
  hideCaption?: boolean
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  id: (row: Row) => string
  className?: string
}) {
  return (
    <table className={className}>
      <caption className={hideCaption ? 'sr' : undefined}>{caption}</caption>
      <thead>
        <tr>
          {columns.map((column, i) =>
            column.head === '' ? (
              <td key={i} />
            ) : (
              <th key={i} scope="col" className={column.num ? 'num' : undefined}>
                {column.head}
              </th>
            ),
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={id(row)}>
            {columns.map((column, i) => {
              const look = [column.num && 'num', column.nowrap && 'nowrap'].filter(Boolean).join(' ') || undefined
              if (column.names)
                return (
                  <th key={i} scope="row" className={look}>
                    {column.cell(row)}
                  </th>
                )
              const head = column.short ?? (typeof column.head === 'string' ? column.head : undefined)
              return (
                <td key={i} className={look} data-head={head || undefined}>
                  {column.cell(row)}
                </td>
              )
            })}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
