import type { ReactNode } from 'react'
import { useQuery } from 'urql'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { FiguresPageDocument, type FiguresPageQuery } from '../../graphql/gen/graphql'
import { dayIn, longDay, shortDay, yearOf } from '../../model/dates'
import { jobStages } from '../../model/kinds'
import { optional } from '../../model/search'
import { plural } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { useMoneyTabs } from '../money/tabs'
import { type Bar, Bars } from './Bars'
import s from './figures.module.css'

const choices = { from: optional(), to: optional() }
type Figures = FiguresPageQuery['figures']

/** What the principal looks at: work and whom it waits for. Nobody is scored. */
export default function FiguresPage() {
  const [search, choose] = useSearch(choices)
  const today = dayIn(Date.now(), useViewer()?.practice.timeZone ?? 'UTC')
  const from = search.from ?? `${Math.floor(yearOf(today))}-01-01`
  const to = search.to ?? today
  const [{ data, error }, again] = useQuery({ query: FiguresPageDocument, variables: { from, to } })
  const tabs = useMoneyTabs()
  return (
    <>
      <Running title="Figures" page="Figures of the practice" tabsLabel="The practice" tabs={tabs}>
        {longDay(from)} to {longDay(to)}, and as it stands today
      </Running>
      <main id="main" className="page-body">
        <div className={s.period}>
          <DateField label="From" value={from} onChange={(day) => day && choose({ from: day })} />
          <DateField label="To" value={to} onChange={(day) => day && choose({ to: day })} />
        </div>
        <Answer data={data} error={error} again={again} lines={12}>
          {(data) => (
            <>
              <div className={s.all}>
                <Stages of={data.figures} />
                <Waiting of={data.figures} />
                <Hours of={data.figures} />
                <Reinspections of={data.figures} />
                <Reports of={data.figures} />
              </div>
              {data.figures.hidden > 0 && (
                <p className="small note">
                  {plural(data.figures.hidden, 'open job')} not open to you: in no figure here.
                </p>
              )}
              <Invented show={data.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

/** One figure: what it says in a sentence, its bars, its table. */
function Figure({
  title,
  says,
  bars,
  unit,
  children,
}: {
  title: string
  says: string
  bars: Bar[]
  unit: string
  children: ReactNode
}) {
  return (
    <figure className={s.figure}>
      <h2>{title}</h2>
      <p>{says}</p>
      {bars.length > 0 && (
        <>
          <Bars bars={bars} label={title} unit={unit} />
          <details>
            <summary>as a table</summary>
            {children}
          </details>
        </>
      )}
    </figure>
  )
}

const stageAt = (stage: string) => (jobStages as readonly string[]).indexOf(stage)

function Stages({ of }: { of: Figures }) {
  const rows = [...of.stages].sort((a, b) => stageAt(a.what) - stageAt(b.what))
  const out = rows.find(({ what }) => what === 'issued')?.count ?? 0
  const open = rows.reduce((sum, { count }) => sum + count, 0) - out
  const issued = out ? ` ${plural(out, 'job')} issued and not closed.` : ''
  return (
    <Figure
      title="Jobs by stage"
      says={(open ? `${plural(open, 'job')} open today.` : 'No job is open today.') + issued}
      unit="jobs"
      bars={rows.map(({ what, count }) => ({ name: what, value: count }))}
    >
      <Table
        caption="Jobs by stage"
        hideCaption
        rows={rows}
        id={(r) => r.what}
        columns={[
          { head: 'stage', names: true, cell: (r) => r.what },
          { head: 'jobs', num: true, cell: (r) => r.count },
        ]}
      />
    </Figure>
  )
}

function Waiting({ of }: { of: Figures }) {
  const first = of.waiting[0]
  return (
    <Figure
      title="Waiting for whom"
      says={first ? `Most wait for ${first.whom}: ${plural(first.jobs, 'job')}.` : 'Nothing waits for anybody.'}
      unit="jobs"
      bars={of.waiting.map(({ whom, jobs }) => ({ name: whom, value: jobs, open: true }))}
    >
      <Table
        caption="Waiting for whom"
        hideCaption
        rows={of.waiting}
        id={(r) => r.whom}
        columns={[
          { head: 'for', names: true, cell: (r) => r.whom },
          { head: 'jobs', num: true, cell: (r) => r.jobs },
          { head: 'the longest since', cell: (r) => (r.since ? shortDay(r.since) : 'not dated') },
        ]}
      />
    </Figure>
  )
}

const hours = (minutes: number) => Math.round(minutes / 6) / 10

function Hours({ of }: { of: Figures }) {
  const all = of.hours.reduce((sum, { minutes }) => sum + minutes, 0)
  return (
    <Figure
      title="Hours by kind of survey"
      says={
        all
          ? `${hours(all)} hours at boats, each visit’s length times the people at it; writing is not counted.`
          : 'No visit was made in this period.'
      }
      unit="hours"
      bars={of.hours.map(({ kind, minutes }) => ({ name: kind, value: hours(minutes) }))}
    >
      <Table
        caption="Hours by kind of survey"
        hideCaption
        rows={of.hours}
        id={(r) => r.kind}
        columns={[
          { head: 'kind', names: true, cell: (r) => r.kind },
          { head: 'visits', num: true, cell: (r) => r.visits },
          { head: 'hours', num: true, cell: (r) => hours(r.minutes).toFixed(1) },
        ]}
      />
    </Figure>
  )
}

const became = ['seen', 'booked', 'put off', 'declined', 'not seen']

function Reinspections({ of }: { of: Figures }) {
  const rows = [...of.reinspections].sort((a, b) => became.indexOf(a.what) - became.indexOf(b.what))
  const all = rows.reduce((sum, { count }) => sum + count, 0)
  const seen = rows.find(({ what }) => what === 'seen')?.count ?? 0
  return (
    <Figure
      title="Reinspections kept"
      says={
        all
          ? `${plural(all, 'window')} closed in this period; in ${seen} of them a survey answered it.`
          : 'No window closed in this period.'
      }
      unit="windows"
      bars={rows.map(({ what, count }) => ({ name: what, value: count, open: what !== 'seen' }))}
    >
      <Table
        caption="Reinspections kept"
        hideCaption
        rows={rows}
        id={(r) => r.what}
        columns={[
          { head: 'became', names: true, cell: (r) => r.what },
          { head: 'windows', num: true, cell: (r) => r.count },
        ]}
      />
    </Figure>
  )
}

const hows = ['on time', 'late', 'overdue', 'not yet due']

function days(r: Figures['reports'][number]): string {
  if (r.daysLate === 0) return 'on the day'
  return r.daysLate > 0 ? `${plural(r.daysLate, 'day')} after` : `${plural(-r.daysLate, 'day')} before`
}

function Reports({ of }: { of: Figures }) {
  const rows = [...of.reports].sort((a, b) => hows.indexOf(a.how) - hows.indexOf(b.how))
  const count = (how: string) => rows.find((r) => r.how === how)?.jobs ?? 0
  const says = rows.length
    ? `${plural(count('late') + count('overdue'), 'report')} late or overdue, ${count('on time')} on time.`
    : 'No report was due in this period.'
  return (
    <Figure
      title="Reports due"
      says={says}
      unit="jobs"
      bars={rows.map(({ how, jobs }) => ({ name: how, value: jobs, open: how === 'overdue' || how === 'not yet due' }))}
    >
      <Table
        caption="Reports due"
        hideCaption
        rows={rows}
        id={(r) => r.how}
        columns={[
          { head: 'report', names: true, cell: (r) => r.how },
          { head: 'jobs', num: true, cell: (r) => r.jobs },
          { head: 'half by, of the due day', cell: (r) => (r.how === 'not yet due' ? '' : days(r)) },
        ]}
      />
    </Figure>
  )
}
