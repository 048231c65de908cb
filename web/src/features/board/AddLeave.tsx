import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddLeaveDocument, EndLeaveDocument } from '../../graphql/gen/graphql'
import { dayNumber, dayOf, instantOf, spanTime, wholeDay, zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './place.module.css'
import type { BoardData } from './useBoard'

/** Who is away, from a day to a day, both counted; visits in that time stay, with their conflict named. */
export function AddLeave({ board, onClose, onDone }: { board: BoardData; onClose: () => void; onDone: () => void }) {
  const zone = board.timeZone
  const [member, setMember] = useState(board.surveyors[0]?.member.id ?? '')
  const [from, setFrom] = useState<string | null>(null)
  const [to, setTo] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const [{ fetching, error }, add] = useMutation(AddLeaveDocument)
  const [ended, end] = useMutation(EndLeaveDocument)
  const ready = wholeDay(from) && wholeDay(to) && from <= to && member

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!wholeDay(from) || !wholeDay(to)) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('lve'),
        member,
        from: instantOf(from, '00:00', zone),
        to: instantOf(dayOf(dayNumber(to) + 1), '00:00', zone),
        reason: reason.trim(),
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title="Away" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        <SelectField label="Who" value={member} onChange={(event) => setMember(event.target.value)}>
          {board.surveyors.map((each) => (
            <option key={each.member.id} value={each.member.id}>
              {each.member.name}
            </option>
          ))}
        </SelectField>
        <div className="fields">
          <DateField label="First day away" value={from} onChange={setFrom} />
          <DateField label="Last day away" value={to} onChange={setTo} />
        </div>
        <TextField
          label="Why"
          value={reason}
          onChange={(event) => setReason(event.target.value)}
          help={`Read by whoever is away and by the principal; everybody else sees “away”. Days are those of the practice (${zoneName(zone)}).`}
        />
        {(error ?? ended.error) && <Failed error={(error ?? ended.error) as NonNullable<typeof error>} />}
        <div>
          <button type="submit" className="act" disabled={fetching || !ready}>
            Note it
          </button>
        </div>
        {board.leaves.length > 0 && (
          <section>
            <h3>Noted in these days</h3>
            <ul className={s.people}>
              {board.leaves.map((leave) => (
                <li key={leave.id}>
                  <b>{board.memberName(leave.member)}</b> {spanTime(leave.from, leave.to, zone)}{' '}
                  <span className="note">{leave.reason}</span>{' '}
                  <button
                    type="button"
                    className="quiet"
                    aria-label={`${board.memberName(leave.member)} is there after all`}
                    disabled={ended.fetching}
                    onClick={async () => {
                      const { data } = await end({ input: { mutation: newId('mut'), id: leave.id } })
                      if (data) onDone()
                    }}
                  >
                    Is there after all
                  </button>
                </li>
              ))}
            </ul>
          </section>
        )}
      </form>
    </Sheet>
  )
}
