import { useState } from 'react'
import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  ScheduleBodyFragmentDoc,
  type SurveyBookBodyFragment,
  SurveyBookBodyFragmentDoc,
  SurveyBookDocument,
  SurveyVisitsDocument,
} from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { plural } from '../../model/words'
import { SelectField } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { type Examined, ExamineItem } from './ExamineItem'
import { ItemRow } from './ItemRow'
import { Notes } from './Notes'
import s from './surveybook.module.css'
import { Value } from './Value'

/** A job’s whole-boat survey: the practice’s schedule worked through, its value, and what was said to whom. */
export default function SurveyBookPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: SurveyBookDocument, variables: { job: id } })
  if (data && !data.surveyBook) return <NotFound />
  const book = data?.surveyBook ? read(SurveyBookBodyFragmentDoc, data.surveyBook) : null
  const fresh = () => again({ requestPolicy: 'network-only' })
  return (
    <>
      <Running
        title={book?.job.vessel.name ?? 'Survey'}
        page={book ? `${book.job.vessel.name}, survey` : 'Survey'}
        tabsLabel="This job"
        tabs={
          book
            ? [
                { to: `/jobs/${book.job.id}`, name: `Job ${book.job.number}` },
                { to: `/jobs/${book.job.id}/survey`, name: 'Whole boat' },
                { to: `/vessels/${book.job.vessel.id}`, name: 'Resurvey' },
              ]
            : []
        }
      >
        {book && `${book.job.kind}, whole boat`}
      </Running>
      <main id="main" className="two">
        <Answer data={book} error={error} again={again} lines={12}>
          {(book) => (
            <>
              <div>
                <Schedule book={book} fresh={fresh} />
              </div>
              <aside>
                <Value
                  key={book.valuation?.version ?? 0}
                  job={book.job.id}
                  value={book.valuation}
                  currency={data?.viewer.practice.currency ?? 'EUR'}
                />
                <Notes job={book.job.id} notes={book.notes} fresh={fresh} />
              </aside>
              <Invented show={data?.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

function Schedule({ book, fresh }: { book: SurveyBookBodyFragment; fresh: () => void }) {
  const schedule = read(ScheduleBodyFragmentDoc, book.schedule)
  const [{ data }] = useQuery({ query: SurveyVisitsDocument, variables: { job: book.job.id } })
  const visits = (data?.job?.visits ?? []).filter(({ state }) => state !== 'cancelled')
  const [chosen, choose] = useState('')
  const [open, setOpen] = useState<{ id: string; name: string; examined: Examined | undefined } | null>(null)
  const visit = chosen || (visits.at(-1)?.id ?? '')
  const newest = new Map(book.examinations.map((one) => [one.item, one]))
  const items = schedule.areas.flatMap((area) => area.items)
  const left = items.filter(({ id }) => !newest.has(id)).length
  return (
    <section>
      <h2>The schedule</h2>
      {items.length === 0 ? (
        <p className="note">
          The practice has no schedule yet. Its principal types one under <Link to="/settings">Settings</Link>.
        </p>
      ) : (
        <>
          <div className={s.head}>
            <SelectField label="In the visit" value={visit} onChange={(event) => choose(event.target.value)}>
              {visits.map(({ id, kind, from, timeZone }) => (
                <option key={id} value={id}>
                  {kind}, {shortDay(dayIn(from, timeZone))}
                </option>
              ))}
              {visits.length === 0 && <option value="">no visit yet</option>}
            </SelectField>
            <p className="note" role="status">
              {left === 0 ? 'Something is said of every item.' : `Of ${plural(left, 'item')} nothing is said yet.`}{' '}
              {visit && (
                <Link className="no-print" to={`/visits/${visit}`}>
                  The visit’s findings and photos
                </Link>
              )}
            </p>
          </div>
          {schedule.areas.map((area) => (
            <section key={area.id} className={s.area}>
              <h3>{area.name}</h3>
              <ul className="plain-list">
                {area.items.map((item) => (
                  <ItemRow
                    key={item.id}
                    item={item}
                    visit={visit}
                    said={newest.get(item.id)}
                    kept={fresh}
                    open={(examined) => setOpen({ ...item, examined })}
                  />
                ))}
              </ul>
            </section>
          ))}
        </>
      )}
      {open && (
        <ExamineItem
          visit={visit}
          item={open.id}
          name={open.name}
          examined={open.examined}
          said={book.examinations.filter((one) => one.item === open.id && one.visit === visit).at(-1)}
          onClose={(kept) => {
            setOpen(null)
            if (kept) fresh()
          }}
        />
      )}
    </section>
  )
}
