import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddGuaranteeDocument, AddReinspectionDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { KnownBoat, unnamed } from '../engagements/Known'
import s from './reinspections.module.css'

type What = 'look' | 'guarantee'

/** A look noted by hand: a window and its reason, or the end of a guarantee, which diaries one ahead of it. */
export function AddLook({ onDone }: { onDone: () => void }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Note a look
      </button>
      <Sheet title="To be seen again" open={open} onClose={() => setOpen(false)}>
        {open && (
          <Form
            onDone={() => {
              setOpen(false)
              onDone()
            }}
          />
        )}
      </Sheet>
    </>
  )
}

function Form({ onDone }: { onDone: () => void }) {
  const [what, setWhat] = useState<What>('look')
  const [boat, setBoat] = useState(unnamed)
  const [from, setFrom] = useState<string | null>(null)
  const [to, setTo] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const [given, setGiven] = useState('')
  const [tried, setTried] = useState(false)
  const [looked, look] = useMutation(AddReinspectionDocument)
  const [kept, keep] = useMutation(AddGuaranteeDocument)
  const error = looked.error ?? kept.error
  const lacks = (is: unknown, words: string) => (tried && !is ? words : undefined)
  const dayError = (is: string | null, words: string) => (tried && !is ? { error: words } : {})

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    const vessel = boat.known?.id
    if (!vessel || !to || !reason.trim() || (what === 'look' && !from)) return
    const done =
      what === 'look'
        ? await look({
            input: {
              mutation: newId('mut'),
              id: newId('rei'),
              vessel,
              dueFrom: from ?? to,
              dueTo: to,
              reason: reason.trim(),
            },
          })
        : await keep({
            input: {
              mutation: newId('mut'),
              id: newId('gua'),
              vessel,
              what: reason.trim(),
              givenBy: given.trim(),
              endsOn: to,
            },
          })
    if (done.data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <ChoiceField
        label="It is"
        value={what}
        onChange={setWhat}
        options={[
          { value: 'look', name: 'A look' },
          { value: 'guarantee', name: 'A guarantee that ends' },
        ]}
      />
      <KnownBoat
        label="Boat"
        value={boat}
        onChange={setBoat}
        error={lacks(boat.known, 'Type part of her name and choose her.')}
      />
      {what === 'look' ? (
        <>
          <div className="fields">
            <DateField label="From" value={from} onChange={setFrom} {...dayError(from, 'Give the first day.')} />
            <DateField label="To" value={to} onChange={setTo} {...dayError(to, 'Give the last day.')} />
          </div>
          <TextArea
            label="Why"
            rows={2}
            value={reason}
            error={lacks(reason.trim(), 'Say why she should be seen again.')}
            onChange={(event) => setReason(event.target.value)}
          />
        </>
      ) : (
        <>
          <TextField
            label="What is guaranteed"
            placeholder="the epoxy scheme below the water"
            value={reason}
            error={lacks(reason.trim(), 'Say what is guaranteed.')}
            onChange={(event) => setReason(event.target.value)}
          />
          <div className="fields">
            <TextField label="By whom" value={given} onChange={(event) => setGiven(event.target.value)} />
            <DateField
              label="Ends on"
              value={to}
              onChange={setTo}
              {...dayError(to, 'Give the day on which it ends.')}
              help="A look is diaried three months before, or as the practice’s rule says."
            />
          </div>
        </>
      )}
      <div>
        <button type="submit" className="act" disabled={looked.fetching || kept.fetching}>
          Write down
        </button>
      </div>
    </form>
  )
}
