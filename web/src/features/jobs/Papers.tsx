import { type FormEvent, useState } from 'react'
import { useClient, useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { AddPaperDocument, type JobBodyFragment } from '../../graphql/gen/graphql'
import { sayLost, upload } from '../../graphql/upload'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { Labelled, SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './jobs.module.css'

const kinds = ['tonnage', 'code', 'class', 'registration', 'other'] as const

/** Documents that others issued: kept as they came, never made here. */
export function Papers({ job }: { job: JobBodyFragment }) {
  const [open, setOpen] = useState(false)
  const authorised = job.kind === 'tonnage' || job.kind === 'code'
  return (
    <section id="papers">
      <h2>Papers of others</h2>
      {authorised && (
        <Notice>
          A {job.kind} document is issued by authorised persons alone. It is stored here, and the service never makes
          one.
        </Notice>
      )}
      {job.papers.length === 0 ? (
        <p className="small note ruled">None kept. Tonnage, class and code documents can be stored here.</p>
      ) : (
        <ul className={s.papers}>
          {job.papers.map((p) => (
            <li key={p.id}>
              {p.file ? <a href={p.file}>{p.title}</a> : <b>{p.title}</b>}
              <span className="small note">
                {[
                  p.kind,
                  `issued by ${p.issuedBy}`,
                  p.issuedOn && shortDay(p.issuedOn),
                  p.number && `number ${p.number}`,
                  p.endsOn && `ends ${shortDay(p.endsOn)}`,
                ]
                  .filter(Boolean)
                  .join(' · ')}
              </span>
            </li>
          ))}
        </ul>
      )}
      <Allowed to="book">
        <div style={{ marginTop: 12 }}>
          <button type="button" className="plain" onClick={() => setOpen(true)}>
            Keep a paper
          </button>
        </div>
      </Allowed>
      <Sheet title="A paper that somebody else issued" open={open} onClose={() => setOpen(false)}>
        {open && <Form job={job} onDone={() => setOpen(false)} />}
      </Sheet>
    </section>
  )
}

function Form({ job, onDone }: { job: JobBodyFragment; onDone: () => void }) {
  const client = useClient()
  const [file, setFile] = useState<File | null>(null)
  const [kind, setKind] = useState<string>(job.kind === 'tonnage' || job.kind === 'code' ? job.kind : 'other')
  const [title, setTitle] = useState('')
  const [by, setBy] = useState('')
  const [number, setNumber] = useState('')
  const [on, setOn] = useState<string | null>(null)
  const [ends, setEnds] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string>()
  const [sending, setSending] = useState(false)
  const [{ error }, add] = useMutation(AddPaperDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)

  async function send(event: FormEvent) {
    event.preventDefault()
    setWrong(file ? undefined : 'Choose the file.')
    if (!file) return
    setSending(true)
    try {
      const put = await upload(client, file, 'document', 'application/pdf')
      const { data } = await add({
        input: {
          mutation: newId('mut'),
          id: newId('pap'),
          job: job.id,
          upload: put,
          kind,
          title: title.trim(),
          issuedBy: by.trim(),
          issuedOn: on,
          endsOn: ends,
          number: number.trim(),
        },
      })
      if (data) onDone()
    } catch (fault) {
      setWrong(sayLost(fault))
    } finally {
      setSending(false)
    }
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !fault?.extensions?.field && <Failed error={error} />}
      <Labelled label="File, a PDF of 25 MB at most" error={wrong}>
        {(ids) => (
          <input
            type="file"
            accept="application/pdf"
            {...ids}
            onChange={(event) => setFile(event.target.files?.[0] ?? null)}
          />
        )}
      </Labelled>
      <div className="fields">
        <SelectField label="Kind" value={kind} onChange={(event) => setKind(event.target.value)}>
          {kinds.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </SelectField>
        <TextField label="Title" value={title} error={at('title')} onChange={(event) => setTitle(event.target.value)} />
      </div>
      <TextField
        label="Issued by"
        value={by}
        error={at('issuedBy')}
        onChange={(event) => setBy(event.target.value)}
        help="The authorised person or body, as the paper says."
      />
      <div className="fields">
        <DateField label="Issued on" value={on} onChange={setOn} />
        <DateField label="Ends on" value={ends} onChange={setEnds} />
        <TextField label="Its number" value={number} onChange={(event) => setNumber(event.target.value)} />
      </div>
      <div>
        <button type="submit" className="act" disabled={sending}>
          Keep it
        </button>
      </div>
    </form>
  )
}
