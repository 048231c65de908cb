import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { SupersedeReadingDocument, VoidReadingDocument } from '../../graphql/gen/graphql'
import { parseCell, type Scale } from '../../model/cell'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'
import type { Reading } from './Story'

type How = 'correct' | 'replace' | 'void'

/** Corrects, replaces or voids a reading, with its reason; the old one is kept. */
export function PutRight({ reading, pass }: { reading: Reading; pass: Pass }) {
  const [how, setHow] = useState<How | null>(null)
  const [value, setValue] = useState('')
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const [told, setTold] = useState('')
  const [superseded, supersede] = useMutation(SupersedeReadingDocument)
  const [voided, makeVoid] = useMutation(VoidReadingDocument)
  const scale: Scale = {
    instrument: pass.instrument?.name ?? 'this instrument',
    least: pass.scale?.lowTenths ?? 0,
    most: pass.scale?.highTenths ?? 9999,
  }
  const cell = parseCell(value, scale)
  const wrong =
    how !== 'void' && cell.kind !== 'read' ? (cell.kind === 'wrong' ? cell.why : 'Give what was read') : undefined

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!how || !reason.trim() || wrong) return
    if (how === 'void') {
      const { data } = await makeVoid({ input: { mutation: newId('mut'), reading: reading.id, reason: reason.trim() } })
      if (data) setTold('It no longer counts; it is kept, with the reason.')
      return
    }
    if (cell.kind !== 'read') return
    const { data } = await supersede({
      input: {
        mutation: newId('mut'),
        id: newId('rdg'),
        reading: reading.id,
        how,
        reason: reason.trim(),
        placements: [...cell.placements],
        written: cell.limit ? value.trim() : null,
        takenAt: how === 'correct' ? reading.takenAt : new Date().toISOString(),
      },
    })
    if (data)
      setTold(
        data.supersedeReading.addendumRequired
          ? 'Kept. An issued report had printed the old value: it now asks for an addendum.'
          : 'Kept; the old value stays beside it.',
      )
  }

  if (told) return <Notice>{told}</Notice>
  const error = superseded.error ?? voided.error
  return (
    <form className={s.right} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <ChoiceField
        label={`The reading of ${shortDay(reading.takenAt)}`}
        value={how}
        onChange={setHow}
        options={[
          { value: 'correct', name: 'Was written down wrong' },
          { value: 'replace', name: 'Was read anew' },
          { value: 'void', name: 'Does not count' },
        ]}
      />
      {how && (
        <>
          {how !== 'void' && (
            <TextField
              label={how === 'correct' ? 'What was really read' : 'What is read now'}
              placeholder="35,3 35,8 35,1"
              value={value}
              onChange={(event) => setValue(event.target.value)}
              error={tried ? wrong : undefined}
            />
          )}
          <TextField
            label="Why"
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            error={tried && !reason.trim() ? 'Say why: the reason stays beside the reading' : undefined}
          />
          <div>
            <button type="submit" className="act" disabled={superseded.fetching || voided.fetching}>
              {how === 'void' ? 'Make it void' : 'Keep it'}
            </button>
          </div>
        </>
      )}
    </form>
  )
}
