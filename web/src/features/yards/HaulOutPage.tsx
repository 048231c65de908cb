import { useState } from 'react'
import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  type BoardSpellRowFragment,
  BoardSpellRowFragmentDoc,
  BoardVisitRowFragmentDoc,
  HaulOutPageDocument,
  type HaulOutPageQuery,
  MadeMoveRowFragmentDoc,
} from '../../graphql/gen/graphql'
import { daysAshoreAt, hoursOf } from '../../model/board'
import { dayIn, dayTime, timeIn, weekdayShort, zoneName } from '../../model/dates'
import { capital, metres, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { MoveWords } from '../board/Aside'
import { MoveSheet } from '../moves/MoveSheet'
import { Stands } from '../moves/Stands'
import { UndoMove } from '../moves/UndoMove'
import { EditHaulOut, EditSlot } from './EditHaulOut'
import s from './yards.module.css'

type HaulOut = NonNullable<HaulOutPageQuery['haulOut']>

/** One time ashore: planned and actual times, how she is held, the yard's part in it, and what hangs on it. */
export default function HaulOutPage() {
  const { spell = '' } = useParams()
  const [{ data, error }, ask] = useQuery({
    query: HaulOutPageDocument,
    variables: { spell },
    requestPolicy: 'cache-and-network',
  })
  const again = () => ask({ requestPolicy: 'network-only' })
  if (data && !data.haulOut) return <NotFound />
  const of = data?.haulOut ?? null
  const may = data?.viewer.may.includes('book jobs, haul-outs and visits') ?? false
  return (
    <>
      <Running
        title={of?.spell.vessel.name ?? 'Haul-out'}
        page={of ? `${of.spell.vessel.name} ashore` : 'Haul-out'}
        tabsLabel="This haul-out"
        tabs={
          of
            ? [
                { to: `/haul-outs/${spell}`, name: 'Ashore' },
                { to: `/vessels/${of.spell.vessel.id}`, name: 'Resurvey' },
                { to: `/vessels/${of.spell.vessel.id}/brief`, name: 'Brief' },
              ]
            : []
        }
      >
        {of && (
          <>
            ashore{of.spell.yard && ` at ${of.spell.yard.name}`}
            {of.spell.cancelled && ', called off'}
          </>
        )}
      </Running>
      <main id="main" className="two">
        <Answer data={of} error={error} again={again} lines={10}>
          {(of) => <Body of={of} may={may} again={again} invented={data?.viewer.practice.invented ?? false} />}
        </Answer>
      </main>
    </>
  )
}

function Body({ of, may, again, invented }: { of: HaulOut; may: boolean; again: () => void; invented: boolean }) {
  const slot = read(BoardSpellRowFragmentDoc, of.slot)
  const visits = read(BoardVisitRowFragmentDoc, of.visits).filter(({ state }) => state !== 'cancelled')
  const [open, setOpen] = useState<'lift' | 'wash' | 'edit' | 'slot' | null>(null)
  const shut = () => setOpen(null)
  const lift = slot.actualLift ?? slot.plannedLift
  return (
    <>
      <div>
        <section>
          <h2>Times</h2>
          <Times slot={slot} />
          {may && !of.spell.cancelled && (
            <div className="buttons" style={{ paddingTop: 10 }}>
              {!slot.actualLift && (
                <button type="button" className="act" onClick={() => setOpen('lift')}>
                  Move the lift…
                </button>
              )}
              {!slot.washedAt && slot.washAt && (
                <button type="button" className="plain" onClick={() => setOpen('wash')}>
                  Move the wash…
                </button>
              )}
              <button type="button" className="plain" onClick={() => setOpen('edit')}>
                Write down what has been
              </button>
              <button type="button" className="plain" onClick={() => setOpen('slot')}>
                What the yard does
              </button>
            </div>
          )}
        </section>
        <section>
          <h2>Visits in this time ashore</h2>
          {visits.length === 0 ? (
            <p className="note">None is planned. They are placed from the board or from the job.</p>
          ) : (
            <ul className={s.lines}>
              {visits.map((visit) => {
                const days = daysAshoreAt(lift, visit.from, visit.timeZone)
                return (
                  <li key={visit.id}>
                    <b>
                      {visit.open ? (
                        <Link to={`/visits/${visit.id}`}>{capital(visit.kind)}</Link>
                      ) : (
                        'A visit of another job'
                      )}
                    </b>{' '}
                    {weekdayShort(dayIn(visit.from, visit.timeZone))}, {hoursOf(visit)}
                    <span className="note">
                      {[
                        '',
                        days !== null && `${plural(days, 'day')} ashore`,
                        visit.jobNumber && `job ${visit.jobNumber}`,
                        visit.state === 'done' && 'made',
                      ]
                        .filter((word, i) => i === 0 || word)
                        .join(' · ')}
                    </span>
                    <Stands checks={visit.checks} />
                  </li>
                )
              })}
            </ul>
          )}
        </section>
        {of.moves.length > 0 && (
          <section>
            <h2>Moved</h2>
            <ul className={s.lines}>
              {read(MadeMoveRowFragmentDoc, of.moves).map((move) => (
                <li key={move.id}>
                  <MoveWords move={move} />
                  {move.reason && <p className="small note">“{move.reason}”</p>}
                  {may && <UndoMove move={move.id} onDone={again} />}
                </li>
              ))}
            </ul>
          </section>
        )}
      </div>
      <aside>
        <Yard of={of} slot={slot} />
        <section>
          <h2>Cautions</h2>
          <p className="small">
            Nobody stands under a boat in slings. Props, slings and cradles are the yard’s alone to place and to move;
            its rules and local law come first. That she is held in a way is written down here, never that it is safe.
          </p>
        </section>
      </aside>
      <Invented show={invented} />
      {(open === 'lift' || open === 'wash') && <MoveSheet spell={slot.id} what={open} onClose={shut} onDone={again} />}
      {open === 'edit' && <EditHaulOut slot={slot} notes={of.spell.notes} onClose={shut} onDone={again} />}
      {open === 'slot' && <EditSlot slot={slot} onClose={shut} onDone={again} />}
    </>
  )
}

function Times({ slot }: { slot: BoardSpellRowFragment }) {
  const at = (when: string | null | undefined) => (when ? dayTime(when, slot.timeZone) : '')
  const rows = [
    { what: 'lift', planned: slot.plannedLift, actual: slot.actualLift },
    { what: 'wash', planned: slot.washAt, actual: slot.washedAt },
    { what: 'chocks', planned: slot.chockAt, actual: null },
    { what: 'move within the yard', planned: slot.shiftAt, actual: null },
    { what: 'launch', planned: slot.plannedLaunch, actual: slot.actualLaunch },
  ]
  return (
    <>
      <Table
        caption="Times, planned and actual"
        hideCaption
        columns={[
          { head: 'what', names: true, cell: (row) => row.what },
          { head: 'planned', cell: (row) => at(row.planned) },
          { head: 'done', cell: (row) => at(row.actual) },
        ]}
        rows={rows}
        id={(row) => row.what}
      />
      <p className="small note" style={{ paddingTop: 4 }}>
        Times are those of the yard ({zoneName(slot.timeZone)})
        {slot.datePrecision !== 'instant' && `; the lift is known to the ${slot.datePrecision}`}.
        {slot.askedOnly && !slot.actualLift && ' Asked of the yard, and not yet agreed.'}
      </p>
    </>
  )
}

function Yard({ of, slot }: { of: HaulOut; slot: BoardSpellRowFragment }) {
  const yard = of.yard && <Link to={`/yards/${of.yard.yard.id}`}>{of.yard.yard.name}</Link>
  const facts: [string, React.ReactNode][] = [
    ['yard', yard],
    ['telephone', of.yard?.phone && <a href={`tel:${of.yard.phone.replace(/[^+\d]/g, '')}`}>{of.yard.phone}</a>],
    ['lifts', of.yard?.liftHours],
    ['held', [slot.held, slot.underCover && 'under cover'].filter(Boolean).join(', ')],
    ['pays', slot.pays],
    ['was told', slot.told],
    ['length', slot.loaMm && metres(slot.loaMm)],
    ['notes', of.spell.notes],
  ]
  return (
    <section>
      <h2>The yard’s part</h2>
      <dl className="facts">
        {facts.map(([name, is]) => (
          <div key={name} style={{ display: 'contents' }}>
            <dt>{name}</dt>
            <dd>{is || <span className="note">not known</span>}</dd>
          </div>
        ))}
      </dl>
      {of.tides.length > 0 && (
        <p className="small note" style={{ paddingTop: 6 }}>
          {`High water ${of.tides.map((t) => `${weekdayShort(dayIn(t.highAt, slot.timeZone))} ${timeIn(t.highAt, slot.timeZone)}`).join(', ')} at ${of.tides[0]?.place}; source: ${[...new Set(of.tides.map(({ source }) => source))].join(', ')}. The yard lifts within ${of.yard?.tideWithinMinutes ?? 120} min of one.`}
        </p>
      )}
    </section>
  )
}
