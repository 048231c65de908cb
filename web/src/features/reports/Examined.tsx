import type { Finding, ReportArea, ReportValue } from '../../model/report'
import { Table } from '../../ui/Table'
import { Facts, Said } from './Said'

/** A whole-boat schedule: what was examined, in part, or not and why. */
export function Examined({ areas, findings }: { areas: ReportArea[] | undefined; findings: Finding[] | undefined }) {
  if (!areas?.length) return null
  const numbered = (id: string | undefined) => findings?.find((finding) => finding.id === id)
  return (
    <>
      <h2>What was examined</h2>
      {areas.map(({ name, items }) => (
        <Table
          key={name}
          caption={name}
          className="folds"
          columns={[
            { head: 'item', names: true, cell: (r) => r.name },
            { head: 'examined', nowrap: true, cell: (r) => r.examined },
            { head: 'condition', cell: (r) => r.condition },
            {
              head: 'note',
              cell: (r) => {
                const found = numbered(r.finding)
                return (
                  <>
                    {[r.why, r.note].filter(Boolean).join('; ')}{' '}
                    {found && <a href={`#${found.id}`}>Finding {found.number}</a>}
                  </>
                )
              },
            },
          ]}
          rows={items ?? []}
          id={(r) => r.name}
        />
      ))}
    </>
  )
}

/** An opinion of value on a day. */
export function Value({ value }: { value: ReportValue | undefined }) {
  if (!value) return null
  return (
    <>
      <h2>Value</h2>
      <p className="measure">
        <b>{value.figure}</b>, {value.basis}, on {value.on}. An opinion of value on that day.
      </p>
      <Said list={value.said} className="measure" />
      {value.comparables?.length ? <Facts list={value.comparables} /> : null}
    </>
  )
}
