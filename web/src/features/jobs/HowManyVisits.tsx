import type { JobBriefQuery } from '../../graphql/gen/graphql'
import { Table } from '../../ui/Table'
import s from './brief.module.css'

type Over = NonNullable<JobBriefQuery['brief']>['overVisits']

/** How many visits a course takes: in units of what one visit scatters by, and in scale units once that is measured. */
export function HowManyVisits({ over }: { over: Over }) {
  const one = over.visitDeviation
  const figure = (x: number) => (one == null ? x.toFixed(1) : (x * one).toFixed(1))
  return (
    <section className={s.visits}>
      <h2>How many visits a course takes</h2>
      <p className="small">
        {one == null
          ? 'Change from the first visit to the last, in times what one visit scatters by. What yours scatter by is not measured.'
          : `Change of the hull at large from the first visit to the last, scale units: one visit scatters by ${one.toFixed(1)}.`}{' '}
        More places do not help: a visit moves them all together.
      </p>
      <Table
        caption="How many visits a course takes"
        hideCaption
        className=""
        rows={over.rows}
        id={({ visits }) => String(visits)}
        columns={[
          { head: 'visits', names: true, cell: ({ visits }) => visits },
          { head: 'just told', num: true, cell: ({ shown }) => figure(shown) },
          { head: 'told 4 in 5', num: true, cell: ({ planned }) => figure(planned) },
          { head: 'by rank', cell: ({ leastP }) => (leastP > 0.05 ? 'never' : 'can be') },
        ]}
      />
      <p className="note small">Figures: {over.tag}.</p>
    </section>
  )
}
