import { type FormEvent, type ReactNode, useEffect, useMemo, useState } from 'react'
import { Link, useParams } from 'react-router'
import { Provider, useQuery } from 'urql'
import { keptReports, type Refused, refused } from '../../app/auth'
import { Failed } from '../../app/Fault'
import { codeOf, makeKeptClient } from '../../graphql/client'
import { read } from '../../graphql/gen'
import {
  ClientHomeDocument,
  ClientKeptReportDocument,
  type ClientReportFragment,
  ClientReportFragmentDoc,
  ClientSaysFragmentDoc,
} from '../../graphql/gen/graphql'
import { longDay, shortDay } from '../../model/dates'
import { TextField } from '../../ui/Field'
import { Grade } from '../../ui/Grade'
import { Notice, Waiting } from '../../ui/Notice'
import { Cover } from '../sign-in/Cover'
import { OpenReport } from './OpenReport'
import s from './shared.module.css'

/** Pages of who keeps reports in an account: the same session for all, and nothing of the office in it. */
function Kept({ children }: { children: (again: () => void) => ReactNode }) {
  const [turn, setTurn] = useState(0)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `turn` begins anew after signing in
  const client = useMemo(() => makeKeptClient(), [turn])
  return <Provider value={client}>{children(() => setTurn((n) => n + 1))}</Provider>
}

/** My boats: every report shared with me, what was asked, what I answered, what is due. */
export default function MyPage() {
  const { key } = useParams()
  return <Kept>{(again) => (key ? <OneReport reportKey={key} again={again} /> : <Home again={again} />)}</Kept>
}

function Home({ again }: { again: () => void }) {
  const [{ data, error }] = useQuery({ query: ClientHomeDocument })
  useEffect(() => {
    document.title = 'My boats'
  }, [])
  if (!data) return <NotYet error={error} again={again} />
  const { boats, addresses } = data.clientHome
  const kept = boats.map((boat) => ({ ...boat, reports: boat.reports.map((r) => read(ClientReportFragmentDoc, r)) }))
  return (
    <main className={s.page} id="main">
      <header className={s.cover}>
        <p className={s.kind}>Reports shared with {addresses[0]?.email}</p>
        <h1>My boats</h1>
        <p>
          <button type="button" className="quiet" onClick={() => void keptReports.signOut().then(again, again)}>
            Sign out
          </button>
        </p>
      </header>
      {kept.length === 0 && (
        <Notice>
          No report is open to you now: links end with their day, or were taken back. Ask the practice for a new one.
        </Notice>
      )}
      {kept.map((boat) => (
        <section key={`${boat.practiceName}/${boat.reports[0]?.number}`} className={s.boat}>
          <h2>{boat.name}</h2>
          <p className="small note">{[boat.kind, boat.practiceName].filter(Boolean).join(', ')}</p>
          <ul className={s.others}>
            {boat.reports.map((report) => (
              <li key={report.number}>
                <Link to={`/my/${read(ClientSaysFragmentDoc, report).key}`}>
                  <b>{report.number}</b> {report.title}
                </Link>
                <span className={`small note ${s.below}`}>
                  {longDay(report.issuedOn)}
                  {report.state !== 'issued' && `, ${report.state}`}
                </span>
              </li>
            ))}
          </ul>
          <Due reports={boat.reports} />
        </section>
      ))}
      {kept.some((boat) => boat.reports.some((report) => report.invented)) && (
        <p className="invented page-foot">An invented harbour, practice, boats and people.</p>
      )}
    </main>
  )
}

const words = { agreed: 'you agreed', declined: 'you declined', claimedDone: 'you said it is done' } as const

/** What was asked and is not yet said to be done or declined, soonest first, as printed. */
function Due({ reports }: { reports: ClientReportFragment[] }) {
  const open = reports
    .filter((report) => !report.replacedByNumber && report.state !== 'withdrawn')
    .flatMap((report) => {
      const says = read(ClientSaysFragmentDoc, report)
      return says.tasks.map((task) => ({ task, key: says.key, number: report.number, last: task.answers.at(-1) }))
    })
    .filter(
      ({ task, last }) => task.grade !== 'record' && last?.answer !== 'declined' && last?.answer !== 'claimedDone',
    )
    .sort((a, b) => (a.task.byOn ?? '9').localeCompare(b.task.byOn ?? '9'))
  if (open.length === 0)
    return <p className="small note">Nothing open: all that was asked is answered as done or declined.</p>
  return (
    <>
      {open.map(({ task, key, number, last }) => (
        <article key={`${key}/${task.number}`} className={s.todo}>
          <p className={s.grade}>
            <Grade grade={task.grade} />
            <span className="push">{task.byOn ? `by ${shortDay(task.byOn)}` : task.byAsWritten}</span>
          </p>
          <p>
            <Link to={`/my/${key}`}>{task.what}</Link>
          </p>
          <p className="small note">
            report {number}; {last ? `${words[last.answer]} ${shortDay(last.at)}` : 'not answered yet'}
          </p>
        </article>
      ))}
    </>
  )
}

function OneReport({ reportKey, again }: { reportKey: string; again: () => void }) {
  const [{ data, error }] = useQuery({ query: ClientKeptReportDocument })
  if (!data) return <NotYet error={error} again={again} />
  const found = data.clientHome.boats
    .flatMap(({ reports }) => reports)
    .map((report) => ({ content: report.content, report: read(ClientReportFragmentDoc, report) }))
    .find(({ report }) => read(ClientSaysFragmentDoc, report).key === reportKey)
  if (!found)
    return (
      <main className={s.page} id="main">
        <header className={s.cover}>
          <p className={s.kind}>A report of yours</p>
          <h1>Not open</h1>
        </header>
        <Notice bad ways={<Link to="/my">My boats</Link>}>
          This report is not open to you any more: its link has run out, or was taken back. Ask the practice for
          another.
        </Notice>
      </main>
    )
  return (
    <OpenReport
      shared={{ ...found.report, ...read(ClientSaysFragmentDoc, found.report), content: found.content }}
      files={`/kept/${encodeURIComponent(reportKey)}`}
      back={<Link to="/my">My boats</Link>}
    />
  )
}

function NotYet({ error, again }: { error: Parameters<typeof codeOf>[0]; again: () => void }) {
  if (!error)
    return (
      <main className={s.page}>
        <Waiting lines={8} label="Opening your reports" />
      </main>
    )
  if (/unauthenticated|forbidden/i.test(codeOf(error) ?? '')) return <SignInToReports onDone={again} />
  return (
    <main className={s.page} id="main">
      <h1 className="sr">My boats</h1>
      <Failed error={error} again={again} />
    </main>
  )
}

function SignInToReports({ onDone }: { onDone: () => void }) {
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const [fault, setFault] = useState<Refused | null>(null)
  const [busy, setBusy] = useState(false)
  async function submit(event: FormEvent) {
    event.preventDefault()
    setBusy(true)
    setFault(null)
    try {
      await keptReports.signIn(email, password)
      onDone()
    } catch (error) {
      setFault(refused(error))
      setBusy(false)
    }
  }
  return (
    <Cover title="My boats">
      <form className={s.form} noValidate onSubmit={submit}>
        {fault && !fault.field && <Notice bad>{fault.message}</Notice>}
        <TextField
          label="E-mail"
          type="email"
          autoComplete="username"
          autoCapitalize="none"
          spellCheck={false}
          value={email}
          error={fault?.field === 'email' ? fault.message : undefined}
          onChange={(event) => setEmail(event.target.value)}
        />
        <TextField
          label="Password"
          type="password"
          autoComplete="current-password"
          value={password}
          error={fault?.field === 'password' ? fault.message : undefined}
          onChange={(event) => setPassword(event.target.value)}
        />
        <div>
          <button type="submit" className="act" disabled={busy}>
            {busy ? 'Opening' : 'Open my reports'}
          </button>
        </div>
        <p className="small">
          <Link to="/reset">Forgotten the password?</Link>
        </p>
        <p className="small note">
          No password yet? Open the link of any report you were sent, and choose to keep your reports in one place.
        </p>
      </form>
    </Cover>
  )
}
