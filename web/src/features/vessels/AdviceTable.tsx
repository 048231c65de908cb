import { Allowed } from '../../app/Allowed'
import type { VesselAdviceQuery } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { Grade, Sure } from '../../ui/Grade'
import { Table } from '../../ui/Table'
import s from './vessels.module.css'

export type Advice = NonNullable<VesselAdviceQuery['vessel']>['recommendations'][number]

/** Recommendations by what they ask of whom; `follow` opens how far one has got, `edit` a draft's own words. */
export function AdviceTable({
  caption,
  rows,
  follow,
  edit,
}: {
  caption: string
  rows: readonly Advice[]
  follow: (id: string) => void
  edit: (id: string) => void
}) {
  return (
    <Table
      caption={caption}
      className={`folds ${s.advice} ${s.followed}`}
      columns={[
        { head: 'how urgent', nowrap: true, cell: (r) => <Grade grade={r.grade} /> },
        { head: 'what to do', names: true, cell: (r) => <What advice={r} /> },
        { head: 'how sure', nowrap: true, cell: (r) => <Sure word={r.sure} /> },
        { head: 'who', cell: (r) => r.whoActs },
        { head: 'by', cell: (r) => (r.byOn ? shortDay(r.byOn) : r.byAsWritten) },
        { head: 'closed by', cell: (r) => r.closedBy },
        { head: 'stands', cell: (r) => <Stands advice={r} follow={follow} edit={edit} /> },
      ]}
      rows={rows}
      id={(r) => r.id}
    />
  )
}

function What({ advice: { what, reason, consequence } }: { advice: Advice }) {
  return (
    <>
      {what}
      {(reason || consequence) && (
        <span className={`small note ${s.why}`}>
          {reason} {consequence && `If it is left: ${consequence}`}
        </span>
      )}
    </>
  )
}

function Stands({
  advice,
  follow,
  edit,
}: {
  advice: Advice
  follow: (id: string) => void
  edit: (id: string) => void
}) {
  const last = advice.states.at(-1)
  return (
    <span className={s.stands}>
      <button type="button" className="quiet" onClick={() => follow(advice.id)}>
        {advice.state}
        <span className="sr">, {advice.what}</span>
      </button>
      {last && (
        <span className="small note">
          {last.by}, <span className="nowrap">{shortDay(last.at)}</span>
        </span>
      )}
      {advice.state === 'draft' && (
        <Allowed to="recommend">
          <button type="button" className="quiet" onClick={() => edit(advice.id)}>
            Change<span className="sr">: {advice.what}</span>
          </button>
        </Allowed>
      )}
    </span>
  )
}
