import { Link } from 'react-router'
import { Allowed } from '../../app/Allowed'
import { read } from '../../graphql/gen'
import {
  CauseLinePartsFragmentDoc,
  type CauseMatterPartsFragment,
  CauseMatterPartsFragmentDoc,
} from '../../graphql/gen/graphql'
import { lay, placesSaid, stateWords, workTime } from '../../model/causes'
import { shortDay } from '../../model/dates'
import { Table } from '../../ui/Table'
import type { Ledger } from './CausesPage'
import s from './causes.module.css'
import { Judge } from './Judge'
import { RecordCheck } from './RecordCheck'

type Line = CauseMatterPartsFragment['entries'][number]['for'][number]
type Entry = CauseMatterPartsFragment['entries'][number]
type Judgement = CauseMatterPartsFragment['judgements'][number]

interface Props {
  id: string
  ledger: Ledger
  matter: Ledger['matters'][number]
  vessel: string
}

/** The ledger of one matter: sentences, causes with their evidence, what to do next. */
export function MatterLedger({ id, ledger, matter: masked, vessel }: Props) {
  const matter = read(CauseMatterPartsFragmentDoc, masked)
  const { pointed, idle, excluded } = lay(matter.entries)
  const first = ledger.axis.ids[(matter.places[0] ?? 0) - 1]
  return (
    <section className={s.matter} aria-labelledby={id}>
      <h2 id={id}>{matter.title}</h2>
      <div className={s.says}>
        {matter.says.map(({ claim, text }, k) => (
          <p key={text} className={k === 0 ? 'lead' : undefined} data-claim={claim}>
            {text}
          </p>
        ))}
        {first && (
          <p className="small">
            <Link to={`/vessels/${vessel}?place=${first}&against=${ledger.pass?.id}`}>
              Its places on the hull: {placesSaid(matter.places, ledger.axis, 12)}
            </Link>
          </p>
        )}
      </div>
      <Table
        caption={`Causes that something points towards: ${matter.title}`}
        hideCaption
        className={`folds ${s.ledger}`}
        columns={[
          {
            head: 'cause',
            names: true,
            cell: (entry: Entry) => <Named entry={entry} judgements={matter.judgements} />,
          },
          { head: 'for it', cell: (entry) => <Lines list={entry.for} ledger={ledger} none="nothing" /> },
          { head: 'against it', cell: (entry) => <Lines list={entry.against} ledger={ledger} none="nothing" /> },
          { head: 'not done', cell: (entry) => <NotDone entry={entry} ledger={ledger} /> },
        ]}
        rows={pointed}
        id={(entry) => entry.cause}
      />
      <Rest
        title="Live, though nothing points towards it"
        entries={idle}
        ledger={ledger}
        judgements={matter.judgements}
      />
      <Rest title="Excluded" entries={excluded} ledger={ledger} judgements={matter.judgements} />
      {matter.unnamed.length > 0 && (
        <>
          <h3>Points elsewhere</h3>
          <ul className={s.lines}>
            {matter.unnamed.map((line, k) => (
              <li key={k}>
                <Evidence line={line} ledger={ledger} />{' '}
                <span className="note">· points towards {read(CauseLinePartsFragmentDoc, line).points}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      <Added list={matter.judgements} />
      <Next matter={matter} ledger={ledger} />
      <Allowed to="judgeCauses">
        <Judge matter={matter} visit={ledger.pass?.visit ?? ''} />
      </Allowed>
    </section>
  )
}

/** The cause, how far the evidence has come, and what surveyors say of it. */
function Named({ entry, judgements }: { entry: Entry; judgements: readonly Judgement[] }) {
  return (
    <>
      {entry.name}
      <span className={s.state} data-state={entry.state}>
        {stateWords[entry.state]}
        {entry.families.length > 0 && <span className="note">: {entry.families.join(', ')}</span>}
      </span>
      <Words list={judgements.filter(({ cause, judges }) => cause === entry.cause && judges !== 'adds')} />
    </>
  )
}

function Words({ list }: { list: readonly Judgement[] }) {
  return list.map(({ id, by, judges, reason, at }) => (
    <span key={id} className={s.word}>
      <b>
        {by} {judges}
      </b>
      , {shortDay(at)}: {reason}
    </span>
  ))
}

/** `side` is said with each line where no head of a column says it. */
function Lines({
  list,
  ledger,
  none,
  side,
}: {
  list: readonly Line[]
  ledger: Ledger
  none: string
  side?: string | undefined
}) {
  if (list.length === 0) return <span className="note">{none}</span>
  return (
    <ul className={s.lines}>
      {list.map((line, k) => (
        <li key={k}>
          <Evidence line={line} ledger={ledger} side={side} />
        </li>
      ))}
    </ul>
  )
}

/** A line of evidence with its figures, its kind and where it comes from. */
function Evidence({ line: masked, ledger, side }: { line: Line; ledger: Ledger; side?: string | undefined }) {
  const line = read(CauseLinePartsFragmentDoc, masked)
  const places = placesSaid(line.places, ledger.axis, 4)
  return (
    <>
      {line.text}
      {line.detail && <span className={s.detail}>{line.detail}</span>}
      <span className={`note ${s.kind}`} title={line.source}>
        {[line.excludes ? 'excludes it' : side, line.family, places, line.confirms && 'confirms']
          .filter(Boolean)
          .join(' · ')}
      </span>
    </>
  )
}

/** Signs that could not be looked for, each with the reason. */
function Unsaid({ entry }: { entry: Entry }) {
  if (entry.unsaid.length === 0) return null
  return (
    <ul className={s.lines}>
      {entry.unsaid.map((masked) => {
        const { sign, text, detail } = read(CauseLinePartsFragmentDoc, masked)
        return (
          <li key={sign}>
            not done: whether {text}
            <span className={s.detail}>{detail}</span>
          </li>
        )
      })}
    </ul>
  )
}

/** What could not be looked for, and checks not made. */
function NotDone({ entry, ledger }: { entry: Entry; ledger: Ledger }) {
  const texts = entry.notDone.flatMap((code) => ledger.checks.find((check) => check.code === code)?.text ?? [])
  if (texts.length + entry.unsaid.length === 0) return <span className="note">all done</span>
  return (
    <>
      <Unsaid entry={entry} />
      {texts.length > 0 && (
        <details>
          <summary>{texts.length === 1 ? '1 check' : `${texts.length} checks`}</summary>
          <ul className={s.lines}>
            {texts.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  )
}

/** Causes said in short, each with its evidence; those of which nothing is known in one sentence. */
function Rest({
  title,
  entries,
  ledger,
  judgements,
}: {
  title: string
  entries: readonly Entry[]
  ledger: Ledger
  judgements: readonly Judgement[]
}) {
  if (entries.length === 0) return null
  const of = (entry: Entry) => judgements.filter(({ cause, judges }) => cause === entry.cause && judges !== 'adds')
  const told = entries.filter(
    (entry) => entry.for.length + entry.against.length + entry.unsaid.length + of(entry).length > 0,
  )
  const untold = entries.filter((entry) => !told.includes(entry)).map(({ name }) => name)
  return (
    <details className={s.folded}>
      <summary>
        <h3>{title}</h3>
        <span>{entries.map(({ name }) => name).join('; ')}</span>
      </summary>
      {told.length > 0 && (
        <dl className={s.rest}>
          {told.map((entry) => (
            <div key={entry.cause}>
              <dt>
                {entry.name}
                <Words list={of(entry)} />
              </dt>
              <dd>
                <Lines list={entry.against} ledger={ledger} none="nothing against it" side="against it" />
                {entry.for.length > 0 && <Lines list={entry.for} ledger={ledger} none="" side="for it" />}
                <Unsaid entry={entry} />
              </dd>
            </div>
          ))}
        </dl>
      )}
      {untold.length > 0 && (
        <p className={s.untold}>
          <span className="note">Nothing known either way of:</span> {untold.join('; ')}.
        </p>
      )}
    </details>
  )
}

function Added({ list }: { list: readonly Judgement[] }) {
  const added = list.filter(({ judges }) => judges === 'adds')
  if (added.length === 0) return null
  return (
    <>
      <h3>Added by a surveyor</h3>
      <ul className={s.lines}>
        {added.map(({ id, name, by, at, reason }) => (
          <li key={id}>
            <b>{name}</b>{' '}
            <span className="note">
              · {by}, {shortDay(at)}
            </span>
            <span className={s.detail}>{reason}</span>
          </li>
        ))}
      </ul>
    </>
  )
}

/** What would best tell apart what is left, with what it costs in time, harm and leave. */
function Next({ matter, ledger }: { matter: CauseMatterPartsFragment; ledger: Ledger }) {
  const rows = matter.next.flatMap((choice) => {
    const check = ledger.checks.find(({ code }) => code === choice.check)
    return check ? [{ ...choice, check }] : []
  })
  if (rows.length === 0) return null
  return (
    <>
      <h3>What would tell them apart, best first</h3>
      <Table
        caption={`Checks not done: ${matter.title}`}
        hideCaption
        className={`folds pairs ${s.next}`}
        columns={[
          { head: 'check', names: true, cell: ({ check }) => check.text },
          {
            head: 'sets apart',
            num: true,
            nowrap: true,
            cell: ({ powerHundredths }) => `${powerHundredths} in 100`,
          },
          { head: 'time', num: true, nowrap: true, cell: ({ check }) => workTime(check.minutes) },
          { head: 'harm', cell: ({ check }) => check.harm },
          { head: 'leave', cell: ({ check }) => check.consent || 'none' },
          {
            head: '',
            cell: ({ check }) => (
              <Allowed to="writeVisit">
                <RecordCheck check={check} places={matter.places} visit={ledger.pass?.visit ?? ''} />
              </Allowed>
            ),
          },
        ]}
        rows={rows.slice(0, 6)}
        id={({ check }) => check.code}
      />
    </>
  )
}
