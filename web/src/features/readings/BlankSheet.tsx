import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { HullFigure } from '../../figure/HullFigure'
import { read } from '../../graphql/gen'
import { PassGridDocument, PassHeadFragmentDoc, PassVesselDocument } from '../../graphql/gen/graphql'
import { dayIn, longDay } from '../../model/dates'
import type { FigureReading } from '../../model/history'
import { gridPlaces } from '../../model/keep'
import { blocks } from '../../model/walk'
import { capital } from '../../model/words'
import { Running } from '../../ui/Running'
import { drySaid } from '../visits/PassFacts'
import s from './sheet.module.css'

/** A recording sheet for pen and clipboard, in the grid's own order, so that it is typed in as it was filled. */
export default function BlankSheet() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: PassGridDocument, variables: { id } })
  const head = data?.pass ? read(PassHeadFragmentDoc, data.pass) : null
  const [about] = useQuery({ query: PassVesselDocument, variables: { visit: head?.visit ?? '' }, pause: !head })
  if (data && !data.pass) return <NotFound />
  const visit = about.data?.visit
  return (
    <>
      <div className="no-print">
        <Running
          title={visit?.vessel.name ?? 'Blank sheet'}
          page="Blank recording sheet"
          tabsLabel="This visit"
          tabs={[
            ...(visit ? [{ to: `/visits/${visit.id}`, name: 'Visit' }] : []),
            { to: `/passes/${id}`, name: 'Readings' },
            { to: `/passes/${id}/sheet`, name: 'Blank sheet' },
          ]}
        >
          A4, two pages. Dry places first; one station complete before the next.
        </Running>
        <p className="buttons" style={{ padding: '16px 24px 0' }}>
          <button type="button" className="act" onClick={() => print()}>
            Print it
          </button>
        </p>
      </div>
      <main id="main" className={s.paper}>
        <Answer data={data?.pass} error={error} again={again}>
          {(pass) => {
            const places = gridPlaces(pass.axis, pass.plan)
            const sides = blocks(places)
            const stations = Math.max(1, ...sides.map(({ lines }) => lines.length))
            return (
              <>
                <header className={s.head}>
                  <h1>{visit?.vessel.name}</h1>
                  <p>
                    {head && visit && longDay(dayIn(head.beganAt, visit.timeZone))} ·{' '}
                    {head?.instrument?.name ?? head?.instrumentAsWritten} · plan {pass.plan.planVersion},{' '}
                    {places.length} places, {pass.plan.dry.length} dry
                  </p>
                  {pass.plan.dryChangeReason && <p>Dry places: {drySaid(pass.plan)}</p>}
                </header>
                <dl className={s.lines}>
                  {[
                    'hand',
                    'began',
                    'ended',
                    'air °C',
                    'RH %',
                    'skin port °C',
                    'skin stbd °C',
                    'low block before',
                    'low block after',
                    'high block before',
                    'high block after',
                    'washed',
                    'rain 72 h',
                    'tanks, bilge',
                  ].map((name) => (
                    <div key={name}>
                      <dt>{name}</dt>
                      <dd />
                    </div>
                  ))}
                </dl>
                <p className={s.how}>
                  One to five placements in a box. &lt; or &gt; where the needle stood at its end; n and why where a
                  place was not reached; x and why where a reading is void; ! to follow up inside. Surface below 0 °C:
                  do not read.
                </p>
                <div className={s.sides} style={{ '--stations': stations } as React.CSSProperties}>
                  {sides.map((block) => (
                    <table key={block.side}>
                      <caption>{capital(block.side)}</caption>
                      <thead>
                        <tr>
                          <th scope="col">station</th>
                          {block.rows.map((row) => (
                            <th scope="col" key={row}>
                              {row === 0 ? 'dry' : row}
                            </th>
                          ))}
                        </tr>
                      </thead>
                      <tbody>
                        {block.lines.map(({ station, cells }) => (
                          <tr key={station}>
                            <th scope="row">{station}</th>
                            {cells.map((place, i) => (
                              <td key={i} className={place ? (place.baseline ? s.dry : undefined) : s.none} />
                            ))}
                          </tr>
                        ))}
                      </tbody>
                    </table>
                  ))}
                </div>
                <p className={s.foot}>
                  Chocks and props only as the yard set them; keep clear of slings. Marks on the hull: removable, and
                  removed.
                </p>
                {visit?.vessel.figure ? (
                  <figure className={s.figure}>
                    <HullFigure
                      spec={visit.vessel.figure}
                      width={700}
                      readings={places.map(
                        (p): FigureReading => ({
                          id: p.id,
                          side: p.side,
                          along: p.along / 1000,
                          down: p.down / 1000,
                          step: -1,
                          gap: 'due',
                        }),
                      )}
                      label="Where the places of the plan lie"
                    />
                  </figure>
                ) : null}
              </>
            )
          }}
        </Answer>
      </main>
    </>
  )
}
