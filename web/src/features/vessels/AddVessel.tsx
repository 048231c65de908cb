import { type FormEvent, useEffect, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddVesselDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './vessels.module.css'

const blank = { name: '', kind: '', loa: '', year: '', builder: '', model: '', hullNumber: '', where: '' }

/** A hull new to the practice. Only a name is asked for; the rest is filled in as it is read off her. */
export function AddVessel({ open, onClose, name }: { open: boolean; onClose: () => void; name: string }) {
  const navigate = useNavigate()
  const [said, setSaid] = useState(blank)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, add] = useMutation(AddVesselDocument)
  useEffect(() => {
    if (open) setSaid((now) => ({ ...now, name: now.name || name }))
  }, [open, name])
  const put = (field: keyof typeof blank) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const loa = said.loa.trim() ? parseQuantity(said.loa, 3) : null
  const year = said.year.trim() ? parseQuantity(said.year, 0) : null
  const field = error?.graphQLErrors[0]?.extensions?.field

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!said.name.trim() || (loa && !loa.ok) || (year && !year.ok)) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('vsl'),
        name: said.name.trim(),
        kind: said.kind.trim(),
        builder: said.builder.trim(),
        model: said.model.trim(),
        loaMm: loa?.ok ? Math.round(loa.value * 1000) : null,
        mouldedYear: year?.ok ? year.value : null,
        hullNumberAsRead: said.hullNumber.trim(),
        hullNumberWhere: said.where.trim(),
      },
    })
    if (!data) return
    setSaid(blank)
    onClose()
    navigate(`/vessels/${data.addVessel.vessel.id}/brief`)
  }

  return (
    <Sheet title="Add a vessel" open={open} onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !field && <Failed error={error} />}
        <TextField
          label="Name she carries now"
          value={said.name}
          onChange={put('name')}
          error={tried && !said.name.trim() ? 'Give a name; it may change later and is never the key' : undefined}
        />
        <div className="fields">
          <TextField label="Kind" placeholder="fin-keel sloop" value={said.kind} onChange={put('kind')} />
          <NumberField
            label="Length over all"
            unit="m"
            value={said.loa}
            onChange={put('loa')}
            error={tried && loa && !loa.ok ? loa.why : field === 'loaMm' ? error?.graphQLErrors[0]?.message : undefined}
          />
          <NumberField
            label="Moulded in"
            value={said.year}
            onChange={put('year')}
            error={
              tried && year && !year.ok
                ? year.why
                : field === 'mouldedYear'
                  ? error?.graphQLErrors[0]?.message
                  : undefined
            }
          />
          <TextField label="Builder" value={said.builder} onChange={put('builder')} />
          <TextField label="Model" value={said.model} onChange={put('model')} />
        </div>
        <div className="fields">
          <TextField
            label="Hull or craft number"
            spellCheck={false}
            value={said.hullNumber}
            onChange={put('hullNumber')}
            help="Exactly as read, odd characters too. It is checked and never refused."
          />
          <TextField
            label="Where it was read"
            placeholder="transom, starboard"
            value={said.where}
            onChange={put('where')}
          />
        </div>
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Add her
          </button>
        </div>
      </form>
    </Sheet>
  )
}
