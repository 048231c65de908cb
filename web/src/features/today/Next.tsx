import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { HullFigure } from '../../figure/HullFigure'
import { Mark, type MarkKind } from '../../figure/marks'
import { read } from '../../graphql/gen'
import {
  ColumnsFragmentDoc,
  NextVisitDocument,
  type NextVisitQuery,
  type VisitOfDayFragment,
} from '../../graphql/gen/graphql'
import { dayIn, dayMonth, longDay, timeIn } from '../../model/dates'
import { comparable, edgesOf, figureReadings, isFollow, said, spots } from '../../model/history'
import { surfaced } from '../../model/kinds'
import { ashoreWords, capital, plural } from '../../model/words'
import { useWidth } from '../../ui/useWidth'
import { whatLies } from '../history/whatLies'
import s from './today.module.css'

/** The next visit: the boat as she was read last, what to look at again, what was permitted. */
export function Next({ visit }: { visit: VisitOfDayFragment }) {
  const [{ data }] = useQuery({ query: NextVisitDocument, variables: { vessel: visit.vessel.id, job: visit.job } })
  const done = visit.passes.reduce((sum, pass) => sum + pass.read, 0)
  return (
    <article className={s.next}>
      <Plate visit={visit} data={data ?? null} />
      <div>
        <p className={s.when}>
          {timeIn(visit.from, visit.timeZone)}
          {visit.yard && `, ${visit.yard}`}
        </p>
        <h2>
          {visit.vessel.name}, {visit.kind}
        </h2>
        <ul>
          {lines(visit, data ?? null).map(({ mark, text }, i) => (
            <li key={i}>
              <Mark kind={mark} />
              <span>{text}</span>
            </li>
          ))}
        </ul>
        <div className="buttons">
          <Link className="act" to={`/visits/${visit.id}`}>
            {done ? 'Go on with the visit' : 'Open the visit'}
          </Link>
          <Link className="plain" to={`/vessels/${visit.vessel.id}/brief`}>
            Read the brief
          </Link>
        </div>
      </div>
    </article>
  )
}

type Data = NextVisitQuery | null

/** The newest pass that is not of this very visit: what today will be held against. */
function lastOf(visit: VisitOfDayFragment, data: Data) {
  if (!data?.vessel) return null
  const history = read(ColumnsFragmentDoc, data.vessel.history)
  const own = new Set(visit.passes.map(({ id }) => id))
  const pass = history.passes.findLast(({ id }) => !own.has(id))
  return pass ? { pass, all: spots(history.axis) } : null
}

function Plate({ visit, data }: { visit: VisitOfDayFragment; data: Data }) {
  const [ref, width] = useWidth<HTMLDivElement>(380)
  const last = lastOf(visit, data)
  const hull = data?.vessel?.elements.find(({ figure }) => figure)
  const lies = whatLies(hull?.layers ?? [], dayIn(visit.from, visit.timeZone))
  const edges = last && edgesOf(last.pass, data?.viewer.practice.contrastEdges ?? [])
  return (
    <div ref={ref}>
      <HullFigure
        spec={visit.vessel.figure}
        width={width}
        small
        layers={lies.layers}
        fittings={lies.fittings}
        readings={last ? figureReadings(last.all, last.pass, edges, { bare: !comparable(last.pass.standing) }) : []}
        label={last ? `${visit.vessel.name} as read on ${longDay(last.pass.on)}` : `Hull of ${visit.vessel.name}`}
      />
      {last && (
        <p className="small note wet" style={{ paddingTop: 3 }}>
          as {last.pass.hand || 'another hand'} read her, {longDay(last.pass.on)}
        </p>
      )}
    </div>
  )
}

function lines(visit: VisitOfDayFragment, data: Data): { mark: MarkKind; text: ReactNode }[] {
  const out: { mark: MarkKind; text: ReactNode }[] = []
  const last = lastOf(visit, data)
  const ashore =
    visit.daysAshore === 0
      ? 'in the slings'
      : visit.daysAshore != null || visit.ashoreBetween
        ? ashoreWords(visit)
        : 'days ashore not known'
  if (last) {
    const { pass, all } = last
    out.push({
      mark: pass.standing === 'reference' ? 'same' : pass.standing,
      text: (
        <>
          <b>Last time:</b>{' '}
          {[pass.instrument?.name ?? pass.instrumentAsWritten, surfaced(pass.surface), dayMonth(pass.on)]
            .filter(Boolean)
            .join(', ')}
          {(pass.daysAshore != null || pass.ashoreBetween) && `, ${ashoreWords(pass)}`}; now {ashore}. Read her the same
          way.
        </>
      ),
    })
    const again = all.filter(({ slot }) => isFollow(said(pass, slot)))
    if (again.length)
      out.push({
        mark: 'further',
        text: (
          <>
            <b>Look again:</b>{' '}
            {again
              .slice(0, 4)
              .map(({ side, label }) => `${side} ${label}`)
              .join(', ')}
            {again.length > 4 && ` and ${again.length - 4} more`}, marked to follow up inside.
          </>
        ),
      })
  } else
    out.push({
      mark: 'record',
      text: (
        <>
          <b>First reading of this hull</b>, {ashore}. Dry places on both sides first.
        </>
      ),
    })
  if (data?.job?.permissions.length)
    out.push({
      mark: 'record',
      text: (
        <>
          <b>Permissions:</b> {permissions(data.job.permissions)}.
        </>
      ),
    })
  for (const pass of visit.passes)
    out.push({
      mark: pass.state === 'open' ? (pass.read ? 'sent' : 'phone') : 'received',
      text: (
        <>
          <b>{pass.instrument}:</b> {pass.read} of {plural(pass.planned, 'place')} read
          {pass.state === 'open' ? '' : `, ${pass.state}`}
        </>
      ),
    })
  return out
}

function permissions(list: NonNullable<NonNullable<Data>['job']>['permissions']): string {
  return list
    .map((p) =>
      [
        p.what,
        p.extent,
        p.givenOn
          ? `given ${dayMonth(p.givenOn)}`
          : p.refusedOn
            ? 'refused'
            : p.askedOn
              ? `asked ${dayMonth(p.askedOn)}`
              : 'not asked',
      ]
        .filter(Boolean)
        .join(', '),
    )
    .map((text, i) => (i === 0 ? capital(text) : text))
    .join('; ')
}
