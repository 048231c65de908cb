import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { RemoveTidesDocument, type YardBodyFragment } from '../../graphql/gen/graphql'
import { dayIn, dayNumber, dayOf, instantOf, wholeDay } from '../../model/dates'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './yards.module.css'

/** Takes a wrong table of high waters out again, by its days. */
export function RemoveTides({ yard, zone, onDone }: { yard: YardBodyFragment; zone: string; onDone: () => void }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Take days out
      </button>
      {open && <Form yard={yard} zone={zone} onClose={() => setOpen(false)} onDone={onDone} />}
    </>
  )
}

function Form({
  yard,
  zone,
  onClose,
  onDone,
}: {
  yard: YardBodyFragment
  zone: string
  onClose: () => void
  onDone: () => void
}) {
  const first = yard.tides[0] ? dayIn(yard.tides[0].highAt, zone) : null
  const [from, setFrom] = useState<string | null>(first)
  const [to, setTo] = useState<string | null>(first)
  const [{ data, fetching, error }, remove] = useMutation(RemoveTidesDocument)
  const { at, rest } = faults(error, 'to')
  const whole = wholeDay(from) && wholeDay(to)
  const backwards = whole && to < from
  const known = whole
    ? yard.tides.filter(({ highAt }) => dayIn(highAt, zone) >= from && dayIn(highAt, zone) <= to).length
    : 0

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!whole || backwards) return
    const { data } = await remove({
      input: {
        mutation: newId('mut'),
        place: yard.tidePlace,
        from: instantOf(from, '00:00', zone),
        to: instantOf(dayOf(dayNumber(to) + 1), '00:00', zone),
      },
    })
    if (data) onDone()
  }

  return (
    <Sheet title={`High waters at ${yard.tidePlace}`} open onClose={onClose}>
      {data ? (
        <Notice inPlace>{plural(data.removeTides.removed, 'high water')} taken out.</Notice>
      ) : (
        <form className={s.form} noValidate onSubmit={send}>
          {rest && <Failed error={rest} />}
          <p>
            For a table that was wrong. Every yard whose tides are those of {yard.tidePlace} loses these days; lifts are
            then not held against the tide on them.
          </p>
          <div className="fields">
            <DateField label="From" value={from} onChange={setFrom} />
            <DateField
              label="To, that day too"
              value={to}
              onChange={setTo}
              error={backwards ? 'The last day lies before the first' : at('to')}
            />
          </div>
          <p role="status" className="small">
            {plural(known, 'high water')} of those shown for this yard lie in these days.
          </p>
          <div>
            <button type="submit" className="act" disabled={fetching || !whole || backwards}>
              Take them out
            </button>
          </div>
        </form>
      )}
    </Sheet>
  )
}
