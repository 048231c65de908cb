import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  type CheckLineFragment,
  CheckLineFragmentDoc,
  FitVisitDocument,
  type FitVisitQuery,
  MoveVisitDocument,
  PlaceVisitDocument,
  PlacingChoicesDocument,
  type PlacingChoicesQuery,
} from '../../graphql/gen/graphql'
import { clockTime, dayIn, instantOf, shortDay, spanTime, timeIn, wholeDay, zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { visitKinds } from '../../model/kinds'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { Stand } from '../moves/Stands'
import { PlanLift } from '../yards/PlanLift'
import type { JobToPlace, There } from './acts'
import s from './place.module.css'

/** A visit as it stands, where one is moved. */
export interface VisitToMove {
  id: string
  kind: string
  from: string
  to: string
  timeZone: string
  lead?: string | null | undefined
  instruments: readonly string[]
  spell?: string | null | undefined
  version: number
}

/** Kinds of visit that need a word more in a sentence. */
const named: Record<string, string> = { inside: 'visit inside', other: 'visit', completion: 'completion visit' }

const word: Record<string, string> = {
  leave: 'leave',
  distance: 'distance',
  'waiting-time': 'waiting time',
  tide: 'tide',
  competence: 'competence',
  instrument: 'instrument',
  'yard-asked': 'the yard’s answer',
  weather: 'weather',
  wash: 'wash',
}

/** Places a visit of a job, or moves one: when, who and with what, with what stands against each. */
export function PlaceVisit({
  job,
  visit,
  kind,
  there = {},
  onClose,
  onDone,
}: {
  job: JobToPlace
  visit?: VisitToMove | undefined
  /** What a new visit is for, where that is known already. */
  kind?: string | undefined
  there?: There | undefined
  onClose: () => void
  onDone: (visit: string) => void
}) {
  const [{ data, error }, again] = useQuery({
    query: PlacingChoicesDocument,
    variables: { job: job.id, vessel: job.vessel.id },
    requestPolicy: 'network-only',
  })
  return (
    <Sheet
      title={
        visit ? `Move the ${named[visit.kind] ?? visit.kind} of ${job.vessel.name}` : `A visit to ${job.vessel.name}`
      }
      open
      onClose={onClose}
      wide
    >
      <Answer data={data} error={error} again={again}>
        {(data) => (
          <Form
            job={job}
            visit={visit}
            kind={kind}
            there={there}
            choices={data}
            again={() => again({ requestPolicy: 'network-only' })}
            key={data.proposeVisits.spell?.id ?? ''}
            onDone={(id) => {
              onDone(id)
              onClose()
            }}
          />
        )}
      </Answer>
    </Sheet>
  )
}

type Proposed = PlacingChoicesQuery['proposeVisits']['visits'][number]

/** Where a new visit begins: at the window that its job proposes, else in the morning of the day it was let go on. */
function begin(visit: VisitToMove | undefined, window: Proposed | undefined, there: There, zone: string) {
  if (visit) {
    const day = there.day ?? dayIn(visit.from, visit.timeZone)
    return { day, from: timeIn(visit.from, visit.timeZone), to: timeIn(visit.to, visit.timeZone) }
  }
  const from = window ? timeIn(window.from, window.timeZone) : '09:00'
  const hour = Number(from.slice(0, 2)) + (window?.hours ?? 3)
  return {
    day: there.day ?? (window ? dayIn(window.from, window.timeZone) : dayIn(Date.now(), zone)),
    from,
    to: hour < 24 ? `${String(hour).padStart(2, '0')}${from.slice(2)}` : '23:59',
  }
}

function Form({
  job,
  visit,
  kind: wanted,
  there,
  choices,
  again,
  onDone,
}: {
  job: JobToPlace
  visit: VisitToMove | undefined
  kind: string | undefined
  there: There
  choices: PlacingChoicesQuery
  again: () => void
  onDone: (visit: string) => void
}) {
  const practice = useViewer()?.practice.timeZone ?? 'UTC'
  const { proposeVisits: proposed, vessel } = choices
  const spells = (vessel?.spells ?? []).filter(({ cancelled }) => !cancelled)
  const next = proposed.visits.find((each) => !each.visit) ?? proposed.visits[0]
  const [kind, setKind] = useState(visit?.kind ?? wanted ?? next?.kind ?? 'meter visit')
  const [lifting, setLifting] = useState(false)
  const window = proposed.visits.find((each) => each.kind === kind)
  const [spell, setSpell] = useState<string>(visit ? (visit.spell ?? '') : (proposed.spell?.id ?? ''))
  const zone = spells.find(({ id }) => id === spell)?.timeZone ?? visit?.timeZone ?? practice
  const first = begin(visit, window, there, zone)
  const [day, setDay] = useState<string | null>(first.day)
  const [from, setFrom] = useState(first.from)
  const [to, setTo] = useState(first.to)
  const times = [clockTime(from), clockTime(to)] as const
  const valid = wholeDay(day) && times[0] !== null && times[1] !== null && times[0] < times[1]
  const when = valid
    ? { from: instantOf(day, times[0] ?? '', zone), to: instantOf(day, times[1] ?? '', zone), timeZone: zone }
    : null

  function chooseKind(next: string) {
    setKind(next)
    const window = proposed.visits.find((each) => each.kind === next)
    if (visit || !window) return
    const at = begin(undefined, window, there, zone)
    setDay(at.day)
    setFrom(at.from)
    setTo(at.to)
  }

  return (
    <div className={s.form}>
      {proposed.needs.map((text) => (
        <Notice
          key={text}
          ways={
            spells.length === 0 && (
              <button type="button" className="plain" onClick={() => setLifting(true)}>
                Plan a lift
              </button>
            )
          }
        >
          {text}
        </Notice>
      ))}
      {lifting && <PlanLift vessel={job.vessel} onClose={() => setLifting(false)} onDone={again} />}
      <div className={s.fields}>
        {!visit && (
          <SelectField label="What for" value={kind} onChange={(event) => chooseKind(event.target.value)}>
            {visitKinds.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </SelectField>
        )}
        <SelectField label="Ashore" value={spell} onChange={(event) => setSpell(event.target.value)}>
          {spells.map((each) => {
            const lift = each.actualLift ?? each.plannedLift
            return (
              <option key={each.id} value={each.id}>
                {[each.yard?.name, lift && `lift ${shortDay(dayIn(lift, each.timeZone))}`].filter(Boolean).join(', ')}
              </option>
            )
          })}
          <option value="">afloat, or not known</option>
        </SelectField>
        <DateField label="Day" value={day} onChange={setDay} />
        <TextField
          label="From"
          value={from}
          onChange={(event) => setFrom(event.target.value)}
          error={times[0] ? undefined : 'as 09:00'}
          autoComplete="off"
        />
        <TextField
          label="To"
          value={to}
          onChange={(event) => setTo(event.target.value)}
          error={!times[1] ? 'as 12:00' : times[0] && times[0] >= times[1] ? 'after it begins' : undefined}
          autoComplete="off"
        />
      </div>
      <p className="small note">
        Times are those of {spell ? 'the yard' : 'the practice'} ({zoneName(zone)}).
      </p>
      {window && <Window window={window} when={when} />}
      {when && (
        <Fit
          job={job}
          visit={visit}
          kind={kind}
          spell={spell || null}
          when={when}
          lead={there.lead ?? visit?.lead ?? null}
          follows={
            !visit && window ? (proposed.visits.find((each) => each.kind === window.follows)?.visit ?? null) : null
          }
          reason={window?.reason ?? ''}
          onDone={onDone}
        />
      )}
    </div>
  )
}

/** The window that the job proposes, its reason in words and the figures behind it. */
function Window({ window, when }: { window: Proposed; when: { from: string; to: string } | null }) {
  const outside =
    when && (Date.parse(when.from) < Date.parse(window.from) || Date.parse(when.to) > Date.parse(window.to))
  return (
    <details className={s.window} open>
      <summary>
        Proposed {spanTime(window.from, window.to, window.timeZone)}
        {outside && <b> · outside of it as entered</b>}
      </summary>
      <p>{window.reason}</p>
      <p className="small note">{[...window.figures, `Rests on: ${window.tag}.`].join(' ')}</p>
      {window.conflict && <Notice bad>{window.conflict}</Notice>}
    </details>
  )
}

interface When {
  from: string
  to: string
  timeZone: string
}

function Fit(props: {
  job: JobToPlace
  visit: VisitToMove | undefined
  kind: string
  spell: string | null
  when: When
  lead: string | null
  follows: string | null
  reason: string
  onDone: (visit: string) => void
}) {
  const { job, visit, kind, spell, when } = props
  const [{ data, error, fetching }, again] = useQuery({
    query: FitVisitDocument,
    variables: { job: job.id, visit: visit?.id ?? null, spell, kind, ...when },
    requestPolicy: 'network-only',
  })
  return (
    <Answer data={data?.fitVisit} error={error} again={again}>
      {(fit) => <Choose {...props} fit={fit} stale={fetching} />}
    </Answer>
  )
}

type FitOf = FitVisitQuery['fitVisit']

function Choose({
  job,
  visit,
  kind,
  spell,
  when,
  lead: first,
  follows,
  reason,
  fit,
  stale,
  onDone,
}: Parameters<typeof Fit>[0] & { fit: FitOf; stale: boolean }) {
  const checks = (list: FitOf['hard']) => read(CheckLineFragmentDoc, list)
  const [lead, setLead] = useState(first ?? '')
  const [tools, setTools] = useState<ReadonlySet<string>>(
    new Set(
      visit?.instruments ??
        (kind === 'wet look' ? [] : fit.instruments.filter((each) => each.lastTime).map((each) => each.instrument.id)),
    ),
  )
  const [why, setWhy] = useState<Record<string, string>>({})
  const [placed, place] = useMutation(PlaceVisitDocument)
  const [moved, move] = useMutation(MoveVisitDocument)

  const person = fit.surveyors.find(({ member }) => member.id === lead)
  const taken = fit.instruments.filter(({ instrument }) => tools.has(instrument.id))
  const hard = [fit, ...(person ? [person] : []), ...taken].flatMap((each) => checks(each.hard))
  const soft = [fit, ...(person ? [person] : []), ...taken].flatMap((each) => checks(each.soft))
  const owed = [...new Set(soft.filter(({ passed }) => !passed).map(({ code }) => code))]
  const unsaid = owed.filter((code) => !why[code]?.trim())

  async function send(event: FormEvent) {
    event.preventDefault()
    const common = {
      mutation: newId('mut'),
      id: visit?.id ?? newId('vis'),
      ...(spell || !visit ? { spell } : {}),
      from: when.from,
      to: when.to,
      lead: lead || null,
      instruments: [...tools],
      overrides: owed.map((code) => ({ code, reason: why[code]?.trim() ?? '' })),
    }
    const { data } = visit
      ? await move({ input: { ...common, version: visit.version } })
      : await place({
          input: {
            ...common,
            job: job.id,
            kind,
            timeZone: when.timeZone,
            follows,
            followsReason: follows ? reason : '',
          },
        })
    if (data) onDone(common.id)
  }

  const fault = placed.error ?? moved.error
  return (
    <form className={s.form} noValidate onSubmit={send}>
      <div className={s.columns}>
        <fieldset>
          <legend>Who leads it</legend>
          <ul className={s.people}>
            {fit.surveyors.map((each) => (
              <li key={each.member.id}>
                <label className={s.pick}>
                  <input
                    type="radio"
                    name="lead"
                    value={each.member.id}
                    checked={lead === each.member.id}
                    onChange={() => setLead(each.member.id)}
                  />{' '}
                  <b>{each.member.name}</b>
                </label>
                <Said list={[...checks(each.hard), ...checks(each.soft), ...checks(each.thoughts)]} />
              </li>
            ))}
            <li>
              <label className={s.pick}>
                <input type="radio" name="lead" value="" checked={lead === ''} onChange={() => setLead('')} /> nobody
                yet
              </label>
            </li>
          </ul>
        </fieldset>
        <fieldset>
          <legend>With which instruments</legend>
          <ul className={s.people}>
            {fit.instruments.map((each) => (
              <li key={each.instrument.id}>
                <Tick
                  checked={tools.has(each.instrument.id)}
                  onChange={(on) => {
                    const next = new Set(tools)
                    if (on) next.add(each.instrument.id)
                    else next.delete(each.instrument.id)
                    setTools(next)
                  }}
                >
                  {each.instrument.name}
                  {each.lastTime && <span className="note">, read her last time</span>}
                </Tick>
                <Said list={[...checks(each.hard), ...checks(each.soft)]} />
              </li>
            ))}
          </ul>
        </fieldset>
      </div>
      {(fit.hard.length > 0 || fit.soft.length > 0) && (
        <section>
          <h3>Against the visit itself</h3>
          <Said list={[...checks(fit.hard), ...checks(fit.soft)]} />
        </section>
      )}
      {owed.map((code) => (
        <TextField
          key={code}
          label={`Why all the same: ${word[code] ?? code}`}
          value={why[code] ?? ''}
          onChange={(event) => setWhy({ ...why, [code]: event.target.value })}
          help={soft
            .filter((check) => check.code === code)
            .map(({ text, tag }) => `${text} (${tag})`)
            .join(' ')}
          autoComplete="off"
        />
      ))}
      {fault && <Failed error={fault} />}
      <div className="buttons">
        <button
          type="submit"
          className="act"
          disabled={stale || placed.fetching || moved.fetching || hard.length > 0 || unsaid.length > 0}
        >
          {visit ? 'Move it' : 'Place it'}
        </button>
        <span className="small note" role="status">
          {hard.length > 0
            ? 'It cannot be saved: choose another time, person or instrument.'
            : unsaid.length > 0 && `Say why all the same: ${unsaid.map((code) => word[code] ?? code).join(', ')}.`}
        </span>
      </div>
    </form>
  )
}

function Said({ list }: { list: readonly CheckLineFragment[] }) {
  if (list.length === 0) return null
  return (
    <ul className={s.said}>
      {list.map((check) => (
        <Stand key={check.code + check.text} check={check} />
      ))}
    </ul>
  )
}
