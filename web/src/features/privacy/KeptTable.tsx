import { capital } from '../../model/words'
import { Table } from '../../ui/Table'

interface Row {
  what: string
  count: number
  goes: string
  stays: string
}

/** What is kept, what an erasure takes of it, and what stays on which ground. */
export function KeptTable({ rows }: { rows: readonly Row[] }) {
  if (rows.length === 0) return <p className="note">Nothing is kept.</p>
  return (
    <Table
      caption="What is kept, what goes and what stays"
      hideCaption
      columns={[
        { head: 'kept', names: true, cell: (row: Row) => capital(row.what) },
        { head: 'rows', num: true, cell: (row) => row.count },
        { head: 'goes', cell: (row) => row.goes || '–' },
        { head: 'stays', cell: (row) => row.stays || '–' },
      ]}
      rows={rows}
      id={(row) => row.what}
    />
  )
}
