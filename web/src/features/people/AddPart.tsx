import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { AddPartyRoleDocument, BoatsByNameDocument, type PartyRoleKind } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { Combo } from '../../ui/Combo'
import { DateField } from '../../ui/DateField'
import { SelectField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { PartyField } from './PartyField'
import s from './people.module.css'

/** What somebody may be to a boat; the client of a job is named in the job. */
const parts: PartyRoleKind[] = [
  'owner',
  'seller',
  'buyer',
  'broker',
  'insurer',
  'lender',
  'solicitor',
  'builder',
  'yard',
  'other',
]

interface AddPartProps {
  /** The one that is known already; the other is looked for. */
  of: { party: string } | { vessel: string }
  onClose: () => void
  onDone: () => void
}

/** Says what somebody is to a boat, and since when. */
export function AddPart({ of, onClose, onDone }: AddPartProps) {
  const [found, setFound] = useState('')
  const [role, setRole] = useState<PartyRoleKind>('owner')
  const [from, setFrom] = useState<string | null>(null)
  const [to, setTo] = useState<string | null>(null)
  const [{ fetching, error }, add] = useMutation(AddPartyRoleDocument)
  const both = 'party' in of ? { party: of.party, vessel: found } : { party: found, vessel: of.vessel }
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await add({ input: { mutation: newId('mut'), id: newId('ptr'), ...both, role, from, to } })
    if (!data) return
    onDone()
    onClose()
  }
  return (
    <Sheet title="A part" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        {'party' in of ? <Boat onFound={setFound} /> : <PartyField label="Who" onFound={(id) => setFound(id ?? '')} />}
        <SelectField label="Is her" value={role} onChange={(event) => setRole(event.target.value as PartyRoleKind)}>
          {parts.map((part) => (
            <option key={part}>{part}</option>
          ))}
        </SelectField>
        <div className="fields">
          <DateField label="From" value={from} onChange={setFrom} help="Empty: not known." />
          <DateField label="To" value={to} onChange={setTo} help="Empty: still." />
        </div>
        <div>
          <button type="submit" className="act" disabled={fetching || !found}>
            Write it down
          </button>
        </div>
      </form>
    </Sheet>
  )
}

function Boat({ onFound }: { onFound: (id: string) => void }) {
  const [find, setFind] = useState('')
  const [{ data }] = useQuery({ query: BoatsByNameDocument, variables: { find: find || null } })
  return (
    <Combo
      label="Boat"
      items={(data?.vessels.edges ?? []).map(({ node }) => node)}
      onInputChange={setFind}
      onSelectionChange={(key) => onFound(key ? String(key) : '')}
    />
  )
}
