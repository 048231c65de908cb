import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { AddPartyDocument, type PartyKind } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { ZoneField } from '../../ui/ZoneField'
import s from './people.module.css'

const blank = { name: '', email: '', phone: '', address: '' }

export function AddParty({ open, onClose }: { open: boolean; onClose: () => void }) {
  const [kind, setKind] = useState<PartyKind>('person')
  const [said, setSaid] = useState(blank)
  const [yard, setYard] = useState(false)
  const practice = useViewer()?.practice.timeZone ?? 'Etc/UTC'
  const [chosen, setZone] = useState<string | null>(null)
  const zone = chosen ?? practice
  const [{ fetching, error }, add] = useMutation(AddPartyDocument)
  const fault = error?.graphQLErrors[0]
  const put = (field: keyof typeof blank) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('pty'),
        kind,
        ...said,
        isYard: kind === 'organisation' && yard,
        timeZone: kind === 'organisation' && yard ? zone : null,
      },
    })
    if (!data) return
    setSaid(blank)
    setZone(null)
    onClose()
  }
  return (
    <Sheet title="Somebody new" open={open} onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !fault?.extensions?.field && <Failed error={error} />}
        <ChoiceField
          label="Is"
          value={kind}
          onChange={setKind}
          options={[
            { value: 'person', name: 'A person' },
            { value: 'organisation', name: 'An organisation' },
          ]}
        />
        <TextField
          label="Name"
          value={said.name}
          onChange={put('name')}
          error={fault?.extensions?.field === 'name' ? fault.message : undefined}
        />
        <div className="fields">
          <TextField
            label="E-mail"
            type="email"
            value={said.email}
            onChange={put('email')}
            error={fault?.extensions?.field === 'email' ? fault.message : undefined}
          />
          <TextField label="Telephone" type="tel" value={said.phone} onChange={put('phone')} />
        </div>
        <TextArea label="Address" value={said.address} onChange={put('address')} />
        {kind === 'organisation' && (
          <Tick checked={yard} onChange={setYard}>
            A yard: boats stand ashore there
          </Tick>
        )}
        {kind === 'organisation' && yard && (
          <ZoneField
            label="Its time zone"
            value={zone}
            onChange={setZone}
            error={fault?.extensions?.field === 'timeZone' ? fault.message : undefined}
            help="Lifts and visits there are in it."
          />
        )}
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Add
          </button>
        </div>
      </form>
    </Sheet>
  )
}
