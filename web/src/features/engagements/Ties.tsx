import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { DecideConflictDocument } from '../../graphql/gen/graphql'
import { longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { TextArea } from '../../ui/Field'
import type { Enquiry } from './EnquiryPage'
import s from './engagements.module.css'

interface Tie {
  code: string
  text: string
}

/** Earlier clients and parties of the same boat: the service names them, a person decides. */
export function Ties({ e, found }: { e: Enquiry; found: readonly Tie[] }) {
  const may = useMay('book')
  const open = !e.job && e.stage !== 'declined' && e.stage !== 'closed'
  return (
    <section id="ties">
      <h2>What stands against it</h2>
      {e.conflictDecision ? (
        <Decided e={e} />
      ) : !e.vessel ? (
        <p className="note ruled">
          The boat is not known yet. Once she is, earlier clients and parties of hers are named here.
        </p>
      ) : (
        <>
          <Found list={found} none="Nobody but the client is known to the practice with this boat." />
          {may && open && <Decide e={e} found={found.length} />}
        </>
      )}
    </section>
  )
}

function Found({ list, none }: { list: readonly Tie[]; none: string }) {
  if (list.length === 0) return <p className="ruled">{none}</p>
  return (
    <ul className={s.found}>
      {list.map(({ text }) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  )
}

function Decided({ e }: { e: Enquiry }) {
  return (
    <>
      <p className="ruled">
        <b>{e.conflictDecision === 'go on' ? 'Taken on' : 'Declined'}</b>
        {e.conflictBy && ` by ${e.conflictBy.name}`}
        {e.conflictAt && `, ${longDay(e.conflictAt)}`}
        {e.conflictNote && `: ${e.conflictNote}`}
      </p>
      <p className="small note">
        {e.conflictFound.length ? 'What was shown then:' : 'Nothing was known that stood against it.'}
      </p>
      {e.conflictFound.length > 0 && <Found list={e.conflictFound} none="" />}
    </>
  )
}

function Decide({ e, found }: { e: Enquiry; found: number }) {
  const [decision, setDecision] = useState<'go on' | 'decline'>('go on')
  const [note, setNote] = useState('')
  const [{ fetching, error }, decide] = useMutation(DecideConflictDocument)
  const fault = error?.graphQLErrors[0]
  async function send(event: FormEvent) {
    event.preventDefault()
    await decide({
      input: { mutation: newId('mut'), engagement: e.id, version: e.version, decision, note: note.trim() },
    })
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && fault?.extensions?.field !== 'note' && <Failed error={error} />}
      <ChoiceField
        label="You decide"
        value={decision}
        onChange={setDecision}
        options={[
          { value: 'go on', name: 'Take it on' },
          { value: 'decline', name: 'Decline' },
        ]}
      />
      <TextArea
        label={found ? 'Why, with what is known' : 'Why'}
        rows={2}
        value={note}
        onChange={(event) => setNote(event.target.value)}
        error={fault?.extensions?.field === 'note' ? fault.message : undefined}
        help="It stays with what was shown. An interest is told to the client before the job is accepted."
      />
      <div>
        <button type="submit" className="plain" disabled={fetching}>
          Decide
        </button>
      </div>
    </form>
  )
}
