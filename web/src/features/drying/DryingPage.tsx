import { useState } from 'react'
import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import { type DryingLogFragment, DryingLogFragmentDoc, DryingPageDocument } from '../../graphql/gen/graphql'
import { dayIn, dayTime, longDay, shortDay } from '../../model/dates'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { useWidth } from '../../ui/useWidth'
import { airKey, DryingChart } from './DryingChart'
import s from './drying.module.css'
import { GateSheet } from './GateSheet'
import { Reached } from './Reached'
import { RecordAir } from './RecordAir'
import { RecordRebound } from './RecordRebound'
import { RecordSheetTest } from './RecordSheetTest'
import { RecordWash } from './RecordWash'
import { SetCourse } from './SetCourse'

/** A hull that dries: her series of passes, washes, the air, a stall and what it may point to, and the sheet of coating gates. */
export default function DryingPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: DryingPageDocument, variables: { job: id } })
  if (data && !data.drying) return <NotFound />
  const log = data?.drying ? read(DryingLogFragmentDoc, data.drying) : null
  return (
    <>
      <Running
        title={log?.job.vessel.name ?? 'Drying'}
        page={log ? `${log.job.vessel.name}, drying` : 'Drying'}
        tabsLabel="This job"
        tabs={
          log
            ? [
                { to: `/jobs/${log.job.id}`, name: `Job ${log.job.number}` },
                { to: `/jobs/${log.job.id}/drying`, name: 'Drying' },
                { to: `/vessels/${log.job.vessel.id}`, name: 'Resurvey' },
              ]
            : []
        }
      >
        {log && `${log.job.kind}, day 0 is ${longDay(log.began)} (${log.beganFrom})`}
      </Running>
      <main id="main" className={s.page}>
        <Answer data={log} error={error} again={again} lines={12}>
          {(log) => (
            <Log
              log={log}
              again={() => again({ requestPolicy: 'network-only' })}
              zone={log.timeZone || data?.viewer.practice.timeZone || 'UTC'}
            />
          )}
        </Answer>
        <Invented show={data?.viewer.practice.invented} />
      </main>
    </>
  )
}

function Log({ log, zone, again }: { log: DryingLogFragment; zone: string; again: () => void }) {
  return (
    <>
      <section>
        <h2>What may be said</h2>
        <ul className={s.said}>
          {log.statements.map(({ claim, text }) => (
            <li key={text} data-claim={claim}>
              {text}
            </li>
          ))}
        </ul>
      </section>
      <Series log={log} />
      <GateSheet log={log} zone={zone} again={again} />
      <Washes log={log} zone={zone} />
      <Sheets log={log} zone={zone} />
      <Stall log={log} />
      <Air log={log} zone={zone} />
      <Reached log={log} />
    </>
  )
}

function Series({ log }: { log: DryingLogFragment }) {
  const [ref, width] = useWidth<HTMLDivElement>(720)
  const [asTable, setAsTable] = useState(false)
  return (
    <section>
      <div className={s.heading}>
        <h2>The series</h2>
        <button type="button" className="quiet" aria-expanded={asTable} onClick={() => setAsTable(!asTable)}>
          {asTable ? 'Without the table' : 'As a table'}
        </button>
        <Allowed to="writeVisit">
          <SetCourse log={log} />
        </Allowed>
      </div>
      {log.passes.length === 0 && (
        <Empty title="No pass yet">
          <p>
            Each closed pass of her time ashore by the same instrument, on the same surface, becomes a point here:
            weekly to fortnightly, heat off the night before, read before a wash and not after.
          </p>
        </Empty>
      )}
      <div ref={ref}>
        <DryingChart log={log} width={width} />
      </div>
      {log.passes.some(({ level }) => level != null) && (
        <p className="note small measure">
          Weeks since drying began.{' '}
          {plural(log.passes.filter(({ part }) => part === 'series').length, 'pass', 'passes')} in the series; the curve
          is the course that fits best, its band where it may lie (95 in 100). Waves are washes. The air below:{' '}
          {airKey(log)}.
        </p>
      )}
      {(asTable || log.passes.some(({ part }) => part === 'left out')) && (
        <Table
          caption="The passes of her time ashore"
          hideCaption
          rows={asTable ? log.passes : log.passes.filter(({ part }) => part === 'left out')}
          id={({ id }) => id}
          columns={[
            { head: 'day', names: true, nowrap: true, cell: ({ on }) => shortDay(on) },
            { head: 'days', num: true, short: 'days', cell: ({ days }) => days.toFixed(0) },
            { head: 'above dry', num: true, cell: ({ level }) => level?.toFixed(1) ?? '–' },
            { head: 'instrument', cell: ({ instrument }) => instrument },
            { head: 'hand', cell: ({ hand }) => hand },
            {
              head: 'air',
              cell: ({ airDecidegrees: t, humidityPermille: h }) =>
                t == null || h == null ? 'not noted' : `${(t / 10).toFixed(1)} °C, ${(h / 10).toFixed(0)} % RH`,
            },
            { head: 'part', cell: ({ part, why }) => (why ? `${part}: ${why}` : part) },
          ]}
        />
      )}
    </section>
  )
}

function Washes({ log, zone }: { log: DryingLogFragment; zone: string }) {
  return (
    <section>
      <div className={s.heading}>
        <h2>Washes and what rebounds</h2>
        <Allowed to="writeVisit">
          <RecordWash job={log.job.id} zone={zone} />
          <RecordRebound log={log} zone={zone} />
        </Allowed>
      </div>
      {log.washes.length === 0 ? (
        <p className="note">No wash written down. Water dries, what it dissolves does not.</p>
      ) : (
        <Table
          caption="Washes"
          hideCaption
          rows={log.washes}
          id={({ id }) => id}
          columns={[
            { head: 'day', names: true, nowrap: true, cell: ({ at }) => shortDay(dayIn(at, zone)) },
            { head: 'how', cell: ({ how, extent }) => [how, extent].filter(Boolean).join(', ') },
            { head: 'pH', num: true, cell: ({ phTenths: ph }) => (ph == null ? '–' : (ph / 10).toFixed(1)) },
            {
              head: 'µS/cm, over supply',
              num: true,
              cell: ({ conductivityTenths: c, supplyTenths: from }) =>
                c == null ? '–' : `${(c / 10).toFixed(0)}${from == null ? '' : `, +${((c - from) / 10).toFixed(0)}`}`,
            },
            {
              head: 'salts',
              num: true,
              cell: ({ salts, volumeUl, areaMm2 }) =>
                salts == null ? '–' : `${salts.toFixed(0)} mg/m² (${(volumeUl ?? 0) / 1000} mL on ${areaMm2} mm²)`,
            },
            {
              head: 'rebound',
              cell: ({ id }) =>
                log.rebounds
                  .filter(({ wash }) => wash === id)
                  .map((one) => rise(one))
                  .join('; ') || '–',
            },
            { head: 'by', cell: ({ by }) => by },
          ]}
        />
      )}
      {log.rebounds
        .filter(({ after }) => after === 'heat off')
        .map((one) => (
          <p key={one.id} className="small">
            {shortDay(dayIn(one.readAt, zone))}, after heat off: {rise(one)}.
          </p>
        ))}
    </section>
  )
}

function rise({ rise, riseLower, riseUpper, hours, places }: DryingLogFragment['rebounds'][number]): string {
  if (rise == null) return ''
  const between = riseLower != null && riseUpper != null ? ` (${riseLower.toFixed(1)} to ${riseUpper.toFixed(1)})` : ''
  return `${rise > 0 ? '+' : ''}${rise.toFixed(1)}${between} after ${hours.toFixed(0)} h at ${plural(places.length, 'place')}`
}

/** Plastic sheets taped to the skin: screening only. */
function Sheets({ log, zone }: { log: DryingLogFragment; zone: string }) {
  return (
    <section>
      <div className={s.heading}>
        <h2>Sheets on the skin</h2>
        <Allowed to="writeVisit">
          <RecordSheetTest job={log.job.id} zone={zone} />
        </Allowed>
      </div>
      {log.sheets.length === 0 ? (
        <p className="note measure">
          None written down. A clear sheet of about 1 m², taped round for 24 to 48 h, screens for water that still comes
          out (common practice, no source).
        </p>
      ) : (
        <Table
          caption="Plastic sheets"
          hideCaption
          rows={log.sheets}
          id={({ id }) => id}
          columns={[
            { head: 'looked at', names: true, nowrap: true, cell: ({ lookedAt }) => dayTime(lookedAt, zone) },
            { head: 'where', cell: ({ place }) => place },
            {
              head: 'on for',
              num: true,
              short: 'on for',
              cell: ({ tapedAt, lookedAt }) =>
                `${((Date.parse(lookedAt) - Date.parse(tapedAt)) / 3_600_000).toFixed(0)} h`,
            },
            {
              head: 'under it',
              cell: ({ condensed, note }) =>
                [condensed ? 'water stood' : 'no water seen', note].filter(Boolean).join('; '),
            },
            { head: 'by', cell: ({ by }) => by },
          ]}
        />
      )}
    </section>
  )
}

function Stall({ log }: { log: DryingLogFragment }) {
  return (
    <section>
      <h2>If she stalls</h2>
      <p className="note measure">Patterns held against what was recorded. None is a cause: readings name none.</p>
      <Table
        caption="Patterns of a stall"
        hideCaption
        rows={log.reasons}
        id={({ code }) => code}
        columns={[
          { head: 'pattern', names: true, cell: ({ head }) => head },
          { head: 'the record', nowrap: true, cell: ({ points }) => points },
          {
            head: 'evidence',
            cell: ({ evidence, places }) =>
              `${evidence}${places.length > 0 ? ` ${places.map((ordinal) => name(log, ordinal)).join(', ')}.` : ''}`,
          },
          { head: 'to tell it', cell: ({ check }) => check },
        ]}
      />
    </section>
  )
}

function name(log: DryingLogFragment, ordinal: number | null): string {
  const slot = (ordinal ?? 0) - 1
  return `${log.axis.sides[slot] ?? ''} ${log.axis.labels[slot] ?? ordinal}`.trim()
}

function Air({ log, zone }: { log: DryingLogFragment; zone: string }) {
  const rows = [
    { what: 'The air she dries in', climate: log.tent },
    { what: 'Outdoors', climate: log.outdoors },
  ].filter((row): row is { what: string; climate: NonNullable<DryingLogFragment['tent']> } => Boolean(row.climate))
  return (
    <section>
      <div className={s.heading}>
        <h2>The air and its floor</h2>
        <Allowed to="writeVisit">
          <RecordAir log={log} zone={zone} />
        </Allowed>
      </div>
      {rows.length === 0 ? (
        <p className="note">No air is logged: neither a tent’s nor outdoors, nor what the visits met.</p>
      ) : (
        <Table
          caption="The air"
          hideCaption
          rows={rows}
          id={({ what }) => what}
          columns={[
            { head: '', names: true, cell: ({ what }) => what },
            { head: 'records', num: true, cell: ({ climate }) => climate.records },
            {
              head: 'mean',
              num: true,
              cell: ({ climate: c }) => `${c.temperature.toFixed(1)} °C, ${c.humidity.toFixed(0)} % RH`,
            },
            {
              head: 'RH from, to',
              num: true,
              cell: ({ climate: c }) => `${c.driest.toFixed(0)} to ${c.dampest.toFixed(0)} %`,
            },
            { head: 'dew point', num: true, cell: ({ climate: c }) => `${c.dewPoint.toFixed(1)} °C` },
            {
              head: 'floor',
              num: true,
              cell: ({ climate: c }) => `about ${Math.round(c.floor * 10)} tenths of saturation`,
            },
          ]}
        />
      )}
      <p className="note small measure">
        The floor is the humidity’s share of saturation, to first order; residues that hold water lift it. No waiting
        passes it.
      </p>
    </section>
  )
}
