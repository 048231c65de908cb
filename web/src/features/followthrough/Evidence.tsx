import { type FormEvent, useState } from 'react'
import { useClient, useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { AddEvidenceDocument, EvidenceChoicesDocument, type FollowThroughBodyFragment } from '../../graphql/gen/graphql'
import { sayLost, upload } from '../../graphql/upload'
import { dayIn, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { Labelled, SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import type { Advice } from './FollowSheet'
import s from './followthrough.module.css'

/** What shows how far it has got: each with its file or its photo one step away. */
export function Shown({ evidence }: { evidence: readonly FollowThroughBodyFragment['evidence'][number][] }) {
  if (evidence.length === 0) return null
  return (
    <section>
      <h3>What shows it</h3>
      <ol className={s.steps}>
        {evidence.map((one) => (
          <li key={one.id}>
            <span className="note">{shortDay(one.seenAt ?? one.toldOn ?? one.at)}</span>
            <span>
              <b>{capital(one.kind)}</b>, {one.by}
              {one.text && <span className="note"> · {one.text}</span>}
              {one.file && (
                <>
                  {' '}
                  · <a href={one.file}>the file</a>
                </>
              )}
              {one.thumb && one.view && (
                <a href={one.view} target="_blank" rel="noreferrer" style={{ display: 'block', width: 'fit-content' }}>
                  <img src={one.thumb} alt={one.text || 'The photo that shows it'} style={{ maxHeight: 72 }} />
                </a>
              )}
            </span>
          </li>
        ))}
      </ol>
    </section>
  )
}

const kinds = ['photo', 'invoice', 'reinspection', 'word'] as const

/** A photo, an invoice, a reinspection or somebody's word. It sets no state by itself. */
export function Show({ advice, vessel }: { advice: Advice; vessel: string }) {
  const roles = useViewer()?.roles ?? []
  const [kind, setKind] = useState<(typeof kinds)[number]>('photo')
  const [of, setOf] = useState('')
  const [text, setText] = useState('')
  const [on, setOn] = useState<string | null>(null)
  const [file, setFile] = useState<File | null>(null)
  const [sending, setSending] = useState(false)
  const [wrong, setWrong] = useState<string | undefined>()
  const [lost, setLost] = useState('')
  const client = useClient()
  const [{ data }] = useQuery({ query: EvidenceChoicesDocument, variables: { vessel, job: advice.job } })
  const [{ fetching, error }, add] = useMutation(AddEvidenceDocument)
  if (roles.length > 0 && roles.every((role) => role === 'guest')) return null

  async function send(event: FormEvent) {
    event.preventDefault()
    const picks = kind === 'photo' || kind === 'reinspection'
    const fault = picks
      ? of
        ? undefined
        : 'Choose one.'
      : text.trim()
        ? undefined
        : 'Say whose it is and what it says.'
    setWrong(fault)
    if (fault) return
    let put: string | null = null
    setLost('')
    if (kind === 'invoice' && file) {
      setSending(true)
      try {
        put = await upload(client, file, 'document', 'application/pdf')
      } catch (fault) {
        setLost(sayLost(fault))
        return
      } finally {
        setSending(false)
      }
    }
    const { data: kept } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('evd'),
        recommendation: advice.id,
        kind,
        photo: kind === 'photo' ? of : null,
        visit: kind === 'reinspection' ? of : null,
        upload: put,
        text: text.trim(),
        toldOn: picks ? null : on,
      },
    })
    if (!kept) return
    setText('')
    setOf('')
    setFile(null)
  }

  const choices =
    kind === 'photo'
      ? (data?.vessel?.photos ?? []).map(({ id, caption, takenAt }) => ({
          id,
          name: [caption || 'no caption', takenAt && shortDay(takenAt)].filter(Boolean).join(', '),
        }))
      : (data?.job?.visits ?? [])
          .filter((visit) => visit.state === 'done')
          .map((visit) => ({ id: visit.id, name: `${visit.kind}, ${shortDay(dayIn(visit.from, visit.timeZone))}` }))
  return (
    <form className={s.form} noValidate onSubmit={send}>
      <h3>Add what shows it</h3>
      {error && <Failed error={error} />}
      {lost && <Notice bad>{lost}</Notice>}
      <ChoiceField
        label="What it is"
        value={kind}
        onChange={(next) => {
          setKind(next)
          setOf('')
        }}
        options={kinds.map((value) => ({ value, name: capital(value) }))}
      />
      <div className={s.pair}>
        {kind === 'photo' || kind === 'reinspection' ? (
          <SelectField
            label={kind === 'photo' ? 'Photo' : 'Visit at which it was seen'}
            value={of}
            error={wrong}
            onChange={(event) => setOf(event.target.value)}
          >
            <option value="">choose</option>
            {choices.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </SelectField>
        ) : (
          <DateField label={kind === 'invoice' ? 'The day it bears' : 'Told on'} value={on} onChange={setOn} />
        )}
        <TextField
          label="Whose, and what it says"
          value={text}
          error={kind === 'photo' || kind === 'reinspection' ? undefined : wrong}
          onChange={(event) => setText(event.target.value)}
        />
      </div>
      {kind === 'invoice' && (
        <Labelled label="The invoice itself, a PDF of 25 MB at most, where there is one">
          {(ids) => (
            <input
              type="file"
              accept="application/pdf"
              {...ids}
              onChange={(event) => setFile(event.target.files?.[0] ?? null)}
            />
          )}
        </Labelled>
      )}
      <p className="small note">It sets no state: seen done is said above, by somebody who saw it.</p>
      <div>
        <button type="submit" className="plain" disabled={fetching || sending}>
          {sending ? 'Sending the file' : 'Add it'}
        </button>
      </div>
    </form>
  )
}
