import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { EditPartyDocument, type PersonFragment } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { ZoneField } from '../../ui/ZoneField'
import s from './people.module.css'

/** How somebody is called and reached now. What was issued keeps what it said. */
export function EditParty({ person, onClose }: { person: PersonFragment; onClose: () => void }) {
  const [said, setSaid] = useState({
    name: person.name,
    email: person.email,
    phone: person.phone,
    address: person.address,
    notes: person.notes,
  })
  const [isYard, setYard] = useState(person.isYard)
  const practice = useViewer()?.practice.timeZone ?? 'Etc/UTC'
  const [timeZone, setTimeZone] = useState(person.timeZone ?? practice)
  const [{ fetching, error }, edit] = useMutation(EditPartyDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: person.id,
        version: person.version,
        ...said,
        isYard,
        timeZone: isYard ? timeZone : null,
      },
    })
    if (data) onClose()
  }
  return (
    <Sheet title={person.name} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !fault?.extensions?.field && <Failed error={error} />}
        <TextField label="Name" value={said.name} onChange={put('name')} error={at('name')} />
        <div className="fields">
          <TextField label="E-mail" type="email" value={said.email} onChange={put('email')} error={at('email')} />
          <TextField label="Telephone" type="tel" value={said.phone} onChange={put('phone')} error={at('phone')} />
        </div>
        <TextArea label="Address" value={said.address} onChange={put('address')} />
        <TextArea
          label="Notes"
          value={said.notes}
          onChange={put('notes')}
          help="The practice’s own; no report shows them."
        />
        {person.kind === 'organisation' && (
          <Tick checked={isYard} onChange={setYard}>
            A yard: boats stand ashore there
          </Tick>
        )}
        {isYard && (
          <ZoneField
            label="Its time zone"
            value={timeZone}
            onChange={setTimeZone}
            error={at('timeZone')}
            help="Lifts and visits there are in it. What is planned keeps the zone it was planned in."
          />
        )}
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Keep it
          </button>
        </div>
      </form>
    </Sheet>
  )
}
