import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { SettingsTermsDocument, WriteTermsDocument } from '../../graphql/gen/graphql'
import { longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './settings.module.css'

/** The terms that offers carry, one version after the other; none is ever changed. */
export function TermsSettings({ mayEdit }: { mayEdit: boolean }) {
  const [{ data, error }, again] = useQuery({ query: SettingsTermsDocument })
  const [open, setOpen] = useState(false)
  const terms = data?.terms ?? []
  return (
    <section className={s.terms}>
      <h2>Terms</h2>
      {error && <Failed error={error} />}
      {terms.length === 0 ? (
        <p className="note ruled">None yet: without them no offer can be sent.</p>
      ) : (
        <ol className="plain-list">
          {terms.map((each, k) => (
            <li key={each.id}>
              <details open={k === 0}>
                <summary>
                  <b>{each.name}</b> <span className="small note">since {longDay(each.madeAt)}</span>
                  {k === 0 && <span className="small"> · offered now</span>}
                </summary>
                {each.body.split('\n').map((line, n) => (
                  <p key={n}>{line}</p>
                ))}
              </details>
            </li>
          ))}
        </ol>
      )}
      <p className="small note">
        Wording and jurisdiction are the practice’s own: have somebody licensed there read them. What a client accepted
        stays as it was accepted.
      </p>
      {mayEdit && (
        <div>
          <button type="button" className="plain" onClick={() => setOpen(true)}>
            Write a new version
          </button>
        </div>
      )}
      <Sheet title="Terms, a new version" open={open} onClose={() => setOpen(false)} wide>
        {open && (
          <Form
            body={terms[0]?.body ?? ''}
            onDone={() => {
              setOpen(false)
              again({ requestPolicy: 'network-only' })
            }}
          />
        )}
      </Sheet>
    </section>
  )
}

function Form({ body: before, onDone }: { body: string; onDone: () => void }) {
  const [name, setName] = useState('')
  const [body, setBody] = useState(before)
  const [{ fetching, error }, write] = useMutation(WriteTermsDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await write({ input: { mutation: newId('mut'), id: newId('trm'), name: name.trim(), body } })
    if (data) onDone()
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !at('name') && !at('body') && <Failed error={error} />}
      <TextField
        label="Name of the version"
        placeholder="2027-1"
        value={name}
        error={at('name')}
        onChange={(event) => setName(event.target.value)}
      />
      <TextArea
        label="Wording"
        rows={14}
        value={body}
        error={at('body')}
        onChange={(event) => setBody(event.target.value)}
      />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Keep this version
        </button>
      </div>
    </form>
  )
}
