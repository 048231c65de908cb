import { useState } from 'react'
import { shortDay } from '../../model/dates'
import { nameOf, readOf, type Spot, said } from '../../model/history'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import type { Pass } from './ResurveyView'

/** "18 of 40 places comparable" of a visit on another grid, and the list of them. A pair is no leave to subtract. */
export function Comparable({ now, then, spots }: { now: Pass; then: Pass; spots: readonly Spot[] }) {
  const [open, setOpen] = useState(false)
  const { matched } = then
  if (!matched) return null
  const rows = matched.places.flatMap((ordinal, k) => {
    const [place, held] = [spots[(ordinal ?? 0) - 1], spots[(matched.held[k] ?? 0) - 1]]
    return place && held ? [{ place, held, apart: matched.apartMm[k] ?? 0, unsure: matched.unsure[k] === 1 }] : []
  })
  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        {matched.comparable} of {matched.of} places comparable
      </button>
      <Sheet title="Places of two grids that name one spot" open={open} onClose={() => setOpen(false)} wide>
        <p>
          Those of {shortDay(then.on)} and of {shortDay(now.on)} that lie within {matched.withinMm} mm of one another,
          as far as the error of their positions tells
          {matched.ambiguous > 0 && `; at ${matched.ambiguous} another place lies as near`}. Both figures are as read:
          whether they may be subtracted is for the standing of the two.
        </p>
        <Table
          caption={`${matched.comparable} of ${matched.of} places comparable`}
          hideCaption
          columns={[
            { head: shortDay(then.on), names: true, nowrap: true, cell: ({ place }) => nameOf(place) },
            { head: shortDay(now.on), nowrap: true, cell: ({ held }) => nameOf(held) },
            { head: 'apart, mm', num: true, cell: ({ apart }) => apart },
            {
              head: 'read then',
              num: true,
              cell: ({ place }) => readOf(said(then, place.slot), then.standing === 'quoted'),
            },
            { head: 'read now', num: true, cell: ({ held }) => readOf(said(now, held.slot)) },
            { head: 'what else', cell: ({ unsure }) => unsure && 'another place as near' },
          ]}
          rows={rows}
          id={({ place }) => place.id}
        />
      </Sheet>
    </>
  )
}
