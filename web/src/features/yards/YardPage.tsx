import { useMemo, useState } from 'react'
import { Link, useNavigate, useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  type BoardSpellRowFragment,
  BoardSpellRowFragmentDoc,
  type YardBodyFragment,
  YardBodyFragmentDoc,
  YardPageDocument,
} from '../../graphql/gen/graphql'
import { dayTime, zoneName } from '../../model/dates'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { DescribeYard } from './DescribeYard'
import { PlanLift } from './PlanLift'
import { YardLinks } from './ShareYard'
import { Tides } from './Tides'
import { WeatherRecord } from './Weather'
import s from './yards.module.css'

const day = 86_400_000

/** A yard: its slots, its tides and weather, and what is known of it. */
export default function YardPage() {
  const { id = '' } = useParams()
  const span = useMemo(() => {
    const today = Math.floor(Date.now() / day) * day
    return { from: new Date(today - 45 * day).toISOString(), to: new Date(today + 200 * day).toISOString() }
  }, [])
  const [{ data, error }, ask] = useQuery({
    query: YardPageDocument,
    variables: { id, ...span },
    requestPolicy: 'cache-and-network',
  })
  const again = () => ask({ requestPolicy: 'network-only' })
  if (data && !data.yard) return <NotFound />
  const yard = read(YardBodyFragmentDoc, data?.yard) ?? null
  const zone = yard?.timeZone || data?.viewer.practice.timeZone || 'UTC'
  const may = data?.viewer.may.includes('book jobs, haul-outs and visits') ?? false
  return (
    <>
      <Running title={yard?.yard.name ?? 'Yard'} page={yard?.yard.name ?? 'Yard'}>
        a yard; times are its own ({zoneName(zone)})
      </Running>
      <main id="main" className="two">
        <Answer data={yard} error={error} again={again} lines={12}>
          {(yard) => (
            <>
              <div>
                <Slots yard={yard} zone={zone} may={may} onDone={again} />
                <Tides yard={yard} zone={zone} may={may} onDone={again} />
                <WeatherRecord yard={yard} zone={zone} may={may} onDone={again} />
              </div>
              <aside>
                <Known yard={yard} may={may} onDone={again} />
                <YardLinks yard={yard} may={may} zone={zone} onDone={again} />
              </aside>
              <Invented show={data?.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

function Slots({
  yard,
  zone,
  may,
  onDone,
}: {
  yard: YardBodyFragment
  zone: string
  may: boolean
  onDone: () => void
}) {
  const navigate = useNavigate()
  const [open, setOpen] = useState(false)
  const slots = read(BoardSpellRowFragmentDoc, yard.slots)
  const at = (planned: string | null | undefined, actual: string | null | undefined, slot: BoardSpellRowFragment) =>
    actual ? `${dayTime(actual, slot.timeZone)}, done` : planned ? dayTime(planned, slot.timeZone) : ''
  return (
    <section>
      <div className={s.head}>
        <h2>Slots</h2>
        {may && (
          <button type="button" className="plain push" onClick={() => setOpen(true)}>
            Plan a lift
          </button>
        )}
      </div>
      {slots.length === 0 ? (
        <p className="note">No boat stood here in the last weeks, and none is to be lifted.</p>
      ) : (
        <Table
          caption="Slots"
          hideCaption
          columns={[
            {
              head: 'boat',
              names: true,
              cell: (slot) => (
                <>
                  <Link to={`/haul-outs/${slot.id}`}>{slot.vesselName}</Link>
                  {slot.askedOnly && !slot.actualLift && <span className="small note"> asked</span>}
                </>
              ),
            },
            { head: 'lift', cell: (slot) => at(slot.plannedLift, slot.actualLift, slot) },
            { head: 'wash', cell: (slot) => at(slot.washAt, slot.washedAt, slot) },
            { head: 'chocks', cell: (slot) => at(slot.chockAt, null, slot) },
            { head: 'move', cell: (slot) => at(slot.shiftAt, null, slot) },
            { head: 'launch', cell: (slot) => at(slot.plannedLaunch, slot.actualLaunch, slot) },
            { head: 'held', cell: (slot) => [slot.held, slot.underCover && 'under cover'].filter(Boolean).join(', ') },
            { head: 'pays', cell: (slot) => slot.pays },
          ]}
          rows={slots}
          id={(slot) => slot.id}
        />
      )}
      <p className="small note" style={{ paddingTop: 4 }}>
        Times are those of the yard ({zoneName(zone)}).
      </p>
      {open && (
        <PlanLift
          yard={yard.yard.id}
          onClose={() => setOpen(false)}
          onDone={(spell) => {
            onDone()
            navigate(`/haul-outs/${spell}`)
          }}
        />
      )}
    </section>
  )
}

function Known({ yard, may, onDone }: { yard: YardBodyFragment; may: boolean; onDone: () => void }) {
  const [open, setOpen] = useState(false)
  const facts: [string, React.ReactNode][] = [
    ['telephone', yard.phone && <a href={`tel:${yard.phone.replace(/[^+\d]/g, '')}`}>{yard.phone}</a>],
    ['e-mail', yard.email && <a href={`mailto:${yard.email}`}>{yard.email}</a>],
    ['where', yard.address && <span className={s.pre}>{yard.address}</span>],
    ['lifts', yard.liftHours],
    ['rules', yard.rules && <span className={s.pre}>{yard.rules}</span>],
    ['keys', yard.keyPlace],
    ['gate code', yard.gateCode && <span className={s.gate}>{yard.gateCode}</span>],
    ['tide', yard.tidePlace && `within ${yard.tideWithinMinutes} min of high water at ${yard.tidePlace}`],
    [
      'position',
      yard.latitudeE6 != null && yard.longitudeE6 != null && `${yard.latitudeE6 / 1e6}°, ${yard.longitudeE6 / 1e6}°`,
    ],
  ]
  return (
    <section>
      <h2>What is known</h2>
      <dl className="facts">
        {facts.map(([name, is]) => (
          <div key={name} style={{ display: 'contents' }}>
            <dt>{name}</dt>
            <dd>{is || <span className="note">not known</span>}</dd>
          </div>
        ))}
      </dl>
      <p className="small note" style={{ paddingTop: 4 }}>
        Keys and gate code are shown to the practice’s own people alone, never by link.
      </p>
      {may && (
        <button type="button" className="plain" style={{ marginTop: 8 }} onClick={() => setOpen(true)}>
          Change what is known
        </button>
      )}
      {open && <DescribeYard yard={yard} onClose={() => setOpen(false)} onDone={onDone} />}
    </section>
  )
}
