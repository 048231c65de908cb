import { useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  type InvoiceRowFragment,
  InvoiceRowFragmentDoc,
  MoneyPageDocument,
  type MoneyPageQuery,
} from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { money } from '../../model/money'
import { oneOf, optional } from '../../model/search'
import { plural } from '../../model/words'
import { Choice } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import s from './money.module.css'
import { useMoneyTabs } from './tabs'
import { invoiceName, isLate, standing } from './words'

const shows = ['owed', 'issued', 'draft'] as const
const names = { owed: 'Owed', issued: 'Issued', draft: 'Drafts' }
const nothing = {
  owed: 'Everything that was asked for is paid.',
  issued: 'No invoice was issued yet.',
  draft: 'No invoice waits to be issued.',
}
const choices = { show: oneOf(shows, 'owed'), after: optional() }

/** What is owed, by age; every invoice; the reports that wait for money; the export for bookkeeping. */
export default function MoneyPage() {
  const [{ show, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: MoneyPageDocument, variables: { show, after } })
  const today = dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC')
  const tabs = useMoneyTabs()
  return (
    <>
      <Running title="Money" tabsLabel="Money" tabs={tabs}>
        {data ? owedWords(data.invoices.ages) : 'what was asked for and what came'}
      </Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) => (
            <div className={s.two}>
              <div>
                <Ages ages={data.invoices.ages} />
                <div className={s.top}>
                  <Choice
                    label="Which invoices"
                    value={show}
                    onChange={(next) => choose({ show: next, after: null })}
                    options={shows.map((value) => ({ value, name: names[value] }))}
                  />
                </div>
                <Invoices
                  rows={data.invoices.edges.map(({ node }) => read(InvoiceRowFragmentDoc, node))}
                  show={show}
                  today={today}
                />
                {data.invoices.hidden > 0 && (
                  <p className="small note">
                    {plural(data.invoices.hidden, 'invoice')} of jobs that are not open to you{' '}
                    {data.invoices.hidden === 1 ? 'is' : 'are'} in no list and no sum here.
                  </p>
                )}
                {data.invoices.pageInfo.hasNextPage && (
                  <p style={{ marginTop: 12 }}>
                    <button
                      type="button"
                      className="plain"
                      onClick={() => choose({ after: data.invoices.pageInfo.endCursor ?? null }, { push: true })}
                    >
                      The next ones
                    </button>
                  </p>
                )}
                <Invented show={data.viewer.practice.invented} />
              </div>
              <aside>
                <Held held={data.invoices.held} />
                <Export today={today} />
              </aside>
            </div>
          )}
        </Answer>
      </main>
    </>
  )
}

type Ages = MoneyPageQuery['invoices']['ages']
const order = [
  'not yet due',
  '1 to 30 days late',
  '31 to 60 days late',
  '61 to 90 days late',
  'over 90 days late',
  'to pay back',
]

function owedWords(ages: Ages): string {
  const owed = new Map<string, number>()
  for (const { currency, age, owedMinor } of ages)
    if (age !== 'to pay back') owed.set(currency, (owed.get(currency) ?? 0) + owedMinor)
  return owed.size
    ? `${[...owed].map(([currency, minor]) => money(minor, currency)).join(' and ')} owed`
    : 'nothing owed'
}

function Ages({ ages }: { ages: Ages }) {
  if (ages.length === 0) return null
  const sorted = [...ages].sort(
    (a, b) => a.currency.localeCompare(b.currency) || order.indexOf(a.age) - order.indexOf(b.age),
  )
  return (
    <section className={s.ages}>
      <Table
        caption="What is owed, by age"
        rows={sorted}
        id={(a) => a.currency + a.age}
        columns={[
          {
            head: 'after the due day',
            names: true,
            cell: (a) => <span className={a.age.endsWith('late') ? s.late : undefined}>{a.age}</span>,
          },
          { head: 'invoices', num: true, cell: (a) => a.invoices },
          { head: 'owed', num: true, cell: (a) => money(a.owedMinor, a.currency) },
        ]}
      />
    </section>
  )
}

function Invoices({ rows, show, today }: { rows: InvoiceRowFragment[]; show: keyof typeof names; today: string }) {
  if (rows.length === 0)
    return (
      <Empty title={`None ${names[show].toLowerCase()}`}>
        <p>{nothing[show]} Invoices begin on the page of their job.</p>
      </Empty>
    )
  return (
    <Table
      caption={`Invoices: ${names[show]}`}
      hideCaption
      rows={rows}
      id={(i) => i.id}
      columns={[
        { head: 'invoice', names: true, cell: (i) => <Link to={`/invoices/${i.id}`}>{invoiceName(i)}</Link> },
        { head: 'payer', cell: (i) => i.payerName || 'nobody yet' },
        {
          head: 'for',
          cell: (i) => (
            <>
              {i.vesselName}, <Link to={`/jobs/${i.job}`}>{i.jobNumber}</Link>
            </>
          ),
        },
        { head: 'dated', nowrap: true, cell: (i) => (i.dated ? shortDay(i.dated) : '') },
        {
          head: 'stands',
          cell: (i) => <span className={isLate(i, today) ? s.late : undefined}>{standing(i, today)}</span>,
        },
        { head: 'with tax', num: true, cell: (i) => money(i.netMinor + i.taxMinor, i.currency) },
      ]}
    />
  )
}

function Held({ held }: { held: MoneyPageQuery['invoices']['held'] }) {
  return (
    <section>
      <h2>Reports held</h2>
      {held.length === 0 ? (
        <p className="small note">No issued report waits for money.</p>
      ) : (
        <ol className={s.lines}>
          {held.map((job) => (
            <li key={job.job}>
              <Link to={`/jobs/${job.job}`}>
                <b>{job.vesselName}</b>, job {job.number}
              </Link>
              <span className="num">{job.owesMinor > 0 ? money(job.owesMinor, job.currency) : 'not invoiced'}</span>
              <span className={s.stands}>
                {[job.clientName, `report ${job.reports.join(', ')}`].filter(Boolean).join(': ')}
              </span>
            </li>
          ))}
        </ol>
      )}
    </section>
  )
}

function Export({ today }: { today: string }) {
  const [from, setFrom] = useState<string | null>(`${today.slice(0, 4)}-01-01`)
  const [to, setTo] = useState<string | null>(today)
  return (
    <section>
      <h2>For bookkeeping</h2>
      <div className={s.export}>
        <DateField label="Dated from" value={from} onChange={setFrom} />
        <DateField label="to" value={to} onChange={setTo} />
        <p className="small note">One row a line of every issued invoice and credit note, as CSV.</p>
        {from && to && from <= to ? (
          <a className="plain" href={`/money/invoices.csv?from=${from}&to=${to}`}>
            Download CSV
          </a>
        ) : (
          <p className="small">Give a first day and a last one after it.</p>
        )}
      </div>
    </section>
  )
}
