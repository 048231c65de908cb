import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { Mark } from '../../figure/marks'
import { read } from '../../graphql/gen'
import {
  BoardPageDocument,
  type BoardPageQuery,
  type VisitOfDayFragment,
  VisitOfDayFragmentDoc,
} from '../../graphql/gen/graphql'
import { clashes, type Span, spanOf, stack, weekDays } from '../../model/board'
import {
  dayIn,
  dayMonth,
  dayNumber,
  dayOf,
  instantOf,
  longDay,
  monday,
  shortDay,
  timeIn,
  weekOf,
} from '../../model/dates'
import { optional } from '../../model/search'
import { capital, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import s from './board.module.css'

const choices = { week: optional() }

/** One week: who stands ashore where, who goes when, and what is not placed yet. */
export default function BoardPage() {
  const [choice, choose] = useSearch(choices)
  const viewer = useViewer()
  const zone = viewer?.practice.timeZone ?? 'UTC'
  const today = dayIn(Date.now(), zone)
  const start = monday(choice.week ?? today)
  const end = dayOf(dayNumber(start) + 7)
  const [{ data, error }, again] = useQuery({
    query: BoardPageDocument,
    variables: { from: instantOf(start, '00:00', zone), to: instantOf(end, '00:00', zone) },
    pause: !viewer,
  })
  const go = (days: number) => choose({ week: dayOf(dayNumber(start) + days) }, { push: true })
  return (
    <>
      <Running
        title={`Week ${weekOf(start)}`}
        page="Board"
        right={
          <div className="buttons">
            <button type="button" className="plain" onClick={() => go(-7)}>
              Week before
            </button>
            <button type="button" className="plain" onClick={() => choose({ week: null }, { push: true })}>
              This week
            </button>
            <button type="button" className="plain" onClick={() => go(7)}>
              Week after
            </button>
          </div>
        }
      >
        {dayMonth(start)} to {longDay(dayOf(dayNumber(start) + 6))} · yard times
      </Running>
      <main id="main" className={s.page}>
        <Answer data={data} error={error} again={again} lines={14}>
          {(data) => <Week data={data} start={start} today={today} />}
        </Answer>
      </main>
    </>
  )
}

type SpellRow = BoardPageQuery['spells'][number]

function Week({ data, start, today }: { data: BoardPageQuery; start: string; today: string }) {
  const visits = read(VisitOfDayFragmentDoc, data.visits)
  const people = data.members.edges
    .map(({ node }) => node)
    .filter(({ leftAt, roles }) => !leftAt && roles.some((role) => role !== 'office' && role !== 'guest'))
  const placed = new Set(visits.map(({ job }) => job))
  const waiting = data.jobs.edges
    .map(({ node }) => node)
    .filter(({ id, nextVisitAt }) => !nextVisitAt && !placed.has(id))
  const twice = clashes(visits.map((v) => ({ id: v.id, lead: v.lead?.id ?? null, from: v.from, to: v.to })))
  const yards = [...new Set(data.spells.map(({ yard }) => yard?.name ?? 'Yard not stated'))].sort()
  return (
    <>
      <aside>
        <h2>Not yet placed</h2>
        {waiting.length === 0 ? (
          <p className="small note" style={{ borderTop: '1px solid', paddingTop: 7 }}>
            Every open job has a visit to come.
          </p>
        ) : (
          <ol className={s.wait}>
            {waiting.map((job) => (
              <li key={job.id}>
                <Link to={`/jobs/${job.id}`}>
                  <b>{job.vessel.name}</b>
                </Link>
                {[job.kind, job.standsBetween, job.dueOn && `due ${shortDay(job.dueOn)}`].filter(Boolean).join('; ')}
              </li>
            ))}
          </ol>
        )}
      </aside>
      <div className={s.scroll}>
        <section className={s.board} aria-label="The week by yard and surveyor">
          <div className={`${s.corner} small note`}>yard times</div>
          {weekDays(start).map((day) => (
            <div
              key={day}
              className={day === today ? `${s.dayhead} ${s.now}` : s.dayhead}
              aria-current={day === today ? 'date' : undefined}
            >
              {new Intl.DateTimeFormat('en-GB', { weekday: 'short', timeZone: 'UTC' }).format(new Date(day))}{' '}
              <b>{Number(day.slice(8))}</b>
            </div>
          ))}
          <h2 className={s.part}>Ashore</h2>
          {yards.length === 0 && <p className={s.nothing}>Nobody stands ashore this week.</p>}
          {yards.map((yard, i) => (
            <Yard
              key={yard}
              name={yard}
              spells={data.spells.filter((each) => (each.yard?.name ?? 'Yard not stated') === yard)}
              start={start}
              today={today}
              last={i === yards.length - 1}
            />
          ))}
          <h2 className={s.part}>Surveyors</h2>
          {people.map((person, i) => (
            <Surveyor
              key={person.id}
              name={person.name}
              roles={person.roles}
              visits={visits.filter(({ lead }) => lead?.id === person.id)}
              twice={twice.filter(([a]) => a.lead === person.id)}
              start={start}
              last={i === people.length - 1}
            />
          ))}
          <div className={s.foot}>
            <Invented show={data.viewer.practice.invented} />
          </div>
        </section>
      </div>
    </>
  )
}

const place = (span: Span, line: number, height: number) =>
  ({ '--a': span.from, '--b': span.to, '--y': `${6 + line * height}px` }) as React.CSSProperties

function Yard({
  name,
  spells,
  start,
  today,
  last,
}: {
  name: string
  spells: readonly SpellRow[]
  start: string
  today: string
  last: boolean
}) {
  const bars = spells.flatMap((spell) => {
    const span = spell.cancelled
      ? null
      : spanOf(spell.actualLift ?? spell.plannedLift, spell.actualLaunch ?? spell.plannedLaunch, start, spell.timeZone)
    return span ? [{ spell, span }] : []
  })
  const lines = stack(bars)
  return (
    <section
      className={last ? `${s.lane} ${s.last}` : s.lane}
      style={{ minHeight: 12 + 30 * Math.max(1, lines.length) }}
    >
      <h3>
        {name}
        <span>{plural(bars.length, 'boat')} this week</span>
      </h3>
      {lines.flatMap((line, i) =>
        line.map(({ spell, span }) => {
          const lift = spell.actualLift ?? spell.plannedLift
          const launch = spell.actualLaunch ?? spell.plannedLaunch
          const since = lift ? dayNumber(today) - dayNumber(dayIn(lift, spell.timeZone)) : null
          const words = [
            lift &&
              (span.before ? `since ${dayMonth(dayIn(lift, spell.timeZone))}` : `lift ${timeIn(lift, spell.timeZone)}`),
            spell.held,
            span.before && since !== null && since >= 0 && `${plural(since, 'day')} today`,
            launch && !span.after
              ? `launch ${timeIn(launch, spell.timeZone)}`
              : launch && `launch ${dayMonth(dayIn(launch, spell.timeZone))}`,
            spell.askedOnly && 'asked of the yard',
          ].filter(Boolean)
          return (
            <Link
              key={spell.id}
              to={`/vessels/${spell.vessel.id}`}
              className={[
                s.spell,
                span.before ? s.on : s.from,
                span.after ? s.off : s.to,
                spell.askedOnly && s.asked,
                span.to - span.from < 0.6 && s.brief,
              ]
                .filter(Boolean)
                .join(' ')}
              style={place(span, i, 30)}
              title={`${spell.vessel.name}: ${words.join(' · ')}`}
            >
              <span>
                <b>{spell.vessel.name}</b> {words.join(' · ')}
              </span>
            </Link>
          )
        }),
      )}
    </section>
  )
}

function Surveyor({
  name,
  roles,
  visits,
  twice,
  start,
  last,
}: {
  name: string
  roles: readonly string[]
  visits: readonly VisitOfDayFragment[]
  twice: ReturnType<typeof clashes>
  start: string
  last: boolean
}) {
  const bars = visits.flatMap((visit) => {
    const span = spanOf(visit.from, visit.to, start, visit.timeZone)
    // A visit takes its day's column; two of one day stand below each other.
    return span ? [{ visit, span: { ...span, from: Math.floor(span.from), to: Math.floor(span.from) + 1 } }] : []
  })
  const lines = stack(bars)
  const clash = new Set(twice.flatMap(([a, b]) => [a.id, b.id]))
  const height = 88
  return (
    <section
      className={last ? `${s.lane} ${s.last}` : s.lane}
      style={{ minHeight: 12 + height * Math.max(0.6, lines.length) + (twice.length ? 40 : 0) }}
    >
      <h3>
        {name}
        <span>{roles.join(', ')}</span>
      </h3>
      {lines.flatMap((line, i) =>
        line.map(({ visit, span }) => (
          <Link
            key={visit.id}
            to={`/visits/${visit.id}`}
            className={[s.visit, /wet/.test(visit.kind) && s.wetlook, clash.has(visit.id) && s.hard]
              .filter(Boolean)
              .join(' ')}
            style={place(span, i, height)}
          >
            <b>{visit.vessel.name}</b>
            {/wet/.test(visit.kind) && <Mark kind="look" />}
            {visit.kind} {timeIn(visit.from, visit.timeZone)}
            {visit.daysAshore ? `, ${plural(visit.daysAshore, 'day')} ashore` : visit.yard && `, ${visit.yard}`}
          </Link>
        )),
      )}
      {twice.map(([a, b]) => {
        const at = (id: string) => visits.find((visit) => visit.id === id)
        const [one, two] = [at(a.id), at(b.id)]
        const span = one && spanOf(one.from, one.to, start, one.timeZone)
        if (!one || !two || !span) return null
        return (
          <p
            key={a.id + b.id}
            className={s.clash}
            style={
              {
                '--a': Math.min(4, Math.floor(span.from)),
                '--w': 3,
                top: 8 + height * lines.length,
              } as React.CSSProperties
            }
          >
            <Mark kind="hard" /> Hard: {capital(name)} is at {one.vessel.name} until {timeIn(one.to, one.timeZone)} and
            at {two.vessel.name} from {timeIn(two.from, two.timeZone)}. Move one.
          </p>
        )
      })}
    </section>
  )
}
