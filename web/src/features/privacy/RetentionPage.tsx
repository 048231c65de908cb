import { type FormEvent, useState } from 'react'
import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  EditRetentionDocument,
  EraseFileDocument,
  RetentionPageDocument,
  type YearsFragment,
  YearsFragmentDoc,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { plural } from '../../model/words'
import { NumberField, TextArea } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import { EraseForm } from './EraseForm'
import s from './privacy.module.css'

type DueFile = YearsFragment['files'][number]

/** For how many years files stay, what has passed its time, and what went. Nothing erases itself. */
export default function RetentionPage() {
  const [{ data, error }, again] = useQuery({ query: RetentionPageDocument })
  return (
    <>
      <Running
        title="How long files stay"
        page="How long files stay"
        tabsLabel="Settings"
        tabs={[
          { to: '/settings', name: 'Settings' },
          { to: '/settings/retention', name: 'How long files stay' },
        ]}
      >
        the practice’s own statement
      </Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) => {
            const kept = read(YearsFragmentDoc, data.retention)
            return (
              <>
                <Years key={kept.version} kept={kept} />
                <Due kept={kept} />
                <Gone kept={kept} />
              </>
            )
          }}
        </Answer>
        <Invented show={data?.viewer.practice.invented} />
      </main>
    </>
  )
}

const fields = [
  {
    years: 'fileYears',
    where: 'fileJurisdiction',
    label: 'Files of jobs',
    help: 'From the last visit, issue or addendum.',
  },
  {
    years: 'invoiceYears',
    where: 'invoiceJurisdiction',
    label: 'Invoices',
    help: 'From the last invoice of a job. Empty: as long as the file.',
  },
  {
    years: 'peopleYears',
    where: 'peopleJurisdiction',
    label: 'People without a file',
    help: 'From the last that was heard of them. Empty: nobody is listed.',
  },
] as const

function Years({ kept }: { kept: YearsFragment }) {
  const [years, setYears] = useState({
    fileYears: String(kept.fileYears),
    invoiceYears: kept.invoiceYears == null ? '' : String(kept.invoiceYears),
    peopleYears: kept.peopleYears == null ? '' : String(kept.peopleYears),
  })
  const [said, setSaid] = useState({
    fileJurisdiction: kept.fileJurisdiction,
    invoiceJurisdiction: kept.invoiceJurisdiction,
    peopleJurisdiction: kept.peopleJurisdiction,
  })
  const [told, setTold] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditRetentionDocument)
  const fault = error?.graphQLErrors[0]
  const number = (text: string) => {
    const read = parseQuantity(text, 0)
    return text.trim() === '' || !read.ok ? null : read.value
  }
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        version: kept.version,
        fileYears: number(years.fileYears) ?? 0,
        invoiceYears: number(years.invoiceYears),
        peopleYears: number(years.peopleYears),
        ...said,
      },
    })
    setTold(Boolean(data))
  }
  return (
    <form className={s.form} noValidate onSubmit={send} style={{ paddingTop: 16 }}>
      <p className="measure">
        How long a file is kept, and by which law, is the practice’s own statement. Local law and counsel come first.
        Nothing is erased by itself: what has passed its time is listed below, a person decides, and a hold stops it.
      </p>
      <p className="small wet note measure">
        {kept.setAt
          ? `Stated on ${shortDay(kept.setAt)}${kept.setBy && ` by ${kept.setBy}`}. `
          : `The practice has stated nothing: ${kept.habitYears} years stand. `}
        {kept.habitTag}
      </p>
      {fields.map(({ years: field, where, label, help }) => (
        <div key={field} className={s.years}>
          <NumberField
            label={label}
            unit="years"
            value={years[field]}
            error={fault?.extensions?.field === field ? fault.message : undefined}
            onChange={(event) => setYears((now) => ({ ...now, [field]: event.target.value }))}
            help={help}
          />
          <TextArea
            label={`${label}: by which rule, and where it holds`}
            rows={2}
            value={said[where]}
            error={fault?.extensions?.field === where ? fault.message : undefined}
            onChange={(event) => setSaid((now) => ({ ...now, [where]: event.target.value }))}
          />
        </div>
      ))}
      {error && !fault?.extensions?.field && <Failed error={error} />}
      <div className="buttons">
        <button type="submit" className="act" disabled={fetching}>
          Keep the statement
        </button>
        {told && <span role="status">Kept.</span>}
      </div>
    </form>
  )
}

function Due({ kept }: { kept: YearsFragment }) {
  const [file, setFile] = useState<DueFile | null>(null)
  return (
    <>
      <section id="due">
        <h2>Files whose time is over</h2>
        {kept.files.length === 0 ? (
          <p className="note ruled">None.</p>
        ) : (
          <Table
            caption="Files whose time is over"
            hideCaption
            columns={[
              {
                head: 'job',
                names: true,
                nowrap: true,
                cell: (row: DueFile) => <Link to={`/jobs/${row.job}`}>{row.number}</Link>,
              },
              { head: 'boat', cell: (row) => row.vessel },
              { head: 'kind', cell: (row) => row.kind },
              { head: 'time over on', nowrap: true, cell: (row) => shortDay(row.dueOn) },
              {
                head: 'decide',
                cell: (row) =>
                  row.held ? (
                    'held'
                  ) : (
                    <button type="button" className="plain" onClick={() => setFile(row)}>
                      Erase…<span className="sr"> the file of job {row.number}</span>
                    </button>
                  ),
              },
            ]}
            rows={kept.files}
            id={(row) => row.job}
          />
        )}
        <Sheet
          title={file ? `Erase the file of job ${file.number}` : 'Erase a file'}
          open={file !== null}
          onClose={() => setFile(null)}
        >
          {file && <EraseFile file={file} onDone={() => setFile(null)} />}
        </Sheet>
      </section>
      <section>
        <h2>People whose time is over</h2>
        {kept.people.length === 0 ? (
          <p className="note ruled">
            {kept.peopleYears == null ? 'No years are stated for people without a file.' : 'Nobody.'}
          </p>
        ) : (
          <ul className={s.list}>
            {kept.people.map((person) => (
              <li key={person.party}>
                <Link to={`/people/${person.party}`}>{person.name}</Link>
                <span className="small note">
                  since {shortDay(person.dueOn)}
                  {person.held && ', held'}
                </span>
              </li>
            ))}
          </ul>
        )}
      </section>
    </>
  )
}

function EraseFile({ file, onDone }: { file: DueFile; onDone: () => void }) {
  const [{ fetching, error }, erase] = useMutation(EraseFileDocument)
  return (
    <EraseForm
      typed={{ label: 'The number of the job', is: file.number, field: 'number' }}
      stops={[]}
      backups="Copies of the database made for recovery, its journal, and reports that clients hold are not reached by this."
      says={`Of job ${file.number}, ${file.vessel}, this goes: the words of its reports and addenda, their pages and PDFs in the store of files, papers and clients’ photos, notes of what was said, names in permissions, terms and invoices, and links. This stays: readings, findings and photos of the boat, what was recommended, numbers, dates, amounts and hashes, and the record of changes.`}
      fetching={fetching}
      error={error}
      erase={async (reason, number) => {
        const { data } = await erase({
          input: { mutation: newId('mut'), id: newId('era'), job: file.job, reason, number: number.trim() },
        })
        if (data) onDone()
      }}
    />
  )
}

const kinds = { person: 'a person', member: 'a member who left', file: 'the file of a job' } as const

function Gone({ kept }: { kept: YearsFragment }) {
  return (
    <section id="gone">
      <h2>What went</h2>
      {kept.gone.length === 0 ? (
        <p className="note ruled">Nothing was erased so far. Days and counts will stand here, no names.</p>
      ) : (
        <Table
          caption="What was erased, by day"
          hideCaption
          columns={[
            {
              head: 'on',
              names: true,
              nowrap: true,
              cell: (row: YearsFragment['gone'][number]) => shortDay(row.at),
            },
            { head: 'of', cell: (row) => kinds[row.kind] },
            { head: 'why', cell: (row) => `${row.reason}${row.by && ` (${row.by})`}` },
            {
              head: 'what',
              cell: (row) => row.counts.map(({ what, count }) => `${what} ${count}`).join(', ') || '–',
            },
            {
              head: 'from the store',
              cell: (row) =>
                row.objects === 0
                  ? '–'
                  : `${plural(row.objects, 'object')}${row.objectsGoneAt ? '' : ', on their way out'}`,
            },
          ]}
          rows={kept.gone}
          id={(row) => row.id}
        />
      )}
    </section>
  )
}
