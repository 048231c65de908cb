import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type FragmentType, read } from '../../graphql/gen'
import { PassHeadFragmentDoc, RecordBlockCheckDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseTenths } from '../../model/number'
import { ChoiceField } from '../../ui/Choice'
import { NumberField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './visit.module.css'

type Block = 'low' | 'high' | 'air'
type Moment = 'before' | 'midway' | 'after'

/** A reading on a reference block: what tells whether the instrument drifted while the pass was made. */
export function AddBlockCheck({ pass }: { pass: FragmentType<typeof PassHeadFragmentDoc> }) {
  const head = read(PassHeadFragmentDoc, pass)
  const [open, setOpen] = useState(false)
  const [block, setBlock] = useState<Block>('low')
  const [moment, setMoment] = useState<Moment>(
    head.blockChecks.some((check) => check.moment === 'before') ? 'after' : 'before',
  )
  const [value, setValue] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, record] = useMutation(RecordBlockCheckDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const parsed = parseTenths(value)
    setWrong(parsed.ok ? undefined : parsed.why)
    if (!parsed.ok) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('blk'),
        pass: head.id,
        block,
        moment,
        valueTenths: parsed.value,
        at: new Date().toISOString(),
      },
    })
    if (!data) return
    setValue('')
    if (block === 'low') setBlock('high')
    else setOpen(false)
  }

  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Block check
      </button>
      <Sheet title="Block check" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <ChoiceField
            label="Block"
            value={block}
            onChange={setBlock}
            options={[
              { value: 'low', name: 'Low' },
              { value: 'high', name: 'High' },
              { value: 'air', name: 'Air' },
            ]}
          />
          <ChoiceField
            label="When"
            value={moment}
            onChange={setMoment}
            options={[
              { value: 'before', name: 'Before' },
              { value: 'midway', name: 'Midway' },
              { value: 'after', name: 'After' },
            ]}
          />
          <NumberField label="Reads" value={value} onChange={(event) => setValue(event.target.value)} error={wrong} />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Write down
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
