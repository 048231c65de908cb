import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import {
  PracticeScheduleDocument,
  type ScheduleBodyFragment,
  ScheduleBodyFragmentDoc,
  SetScheduleDocument,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { readSchedule, writeSchedule } from '../../model/schedule'
import { plural } from '../../model/words'
import { TextArea } from '../../ui/Field'

/** What the practice examines in a whole-boat survey, as a list to be typed. */
export function ScheduleSettings() {
  const [{ data, error }] = useQuery({ query: PracticeScheduleDocument })
  const schedule = data && read(ScheduleBodyFragmentDoc, data.schedule)
  return (
    <section>
      <h2>Whole-boat schedule</h2>
      {error && <Failed error={error} />}
      {schedule && <Form key={schedule.version} schedule={schedule} />}
    </section>
  )
}

function Form({ schedule }: { schedule: ScheduleBodyFragment }) {
  const [text, setText] = useState(writeSchedule(schedule.areas))
  const [{ fetching, error }, set] = useMutation(SetScheduleDocument)
  const areas = readSchedule(text, schedule.areas)
  const items = areas.reduce((n, { items }) => n + items.length, 0)

  async function send(event: FormEvent) {
    event.preventDefault()
    await set({
      input: {
        mutation: newId('mut'),
        version: schedule.version,
        areas: areas.map(({ id, name, items }) => ({ id, name, items: items.map(({ id, name }) => ({ id, name })) })),
      },
    })
  }

  return (
    <form noValidate onSubmit={send} style={{ display: 'grid', gap: 12 }}>
      {error && <Failed error={error} />}
      <TextArea
        label="Areas and items"
        rows={14}
        value={text}
        onChange={(event) => setText(event.target.value)}
        help="An area on a line of its own; its items below it, each begun by a dash. What is left out is retired: visits that examined it keep it."
      />
      <p className="small note" role="status">
        {plural(areas.length, 'area')}, {plural(items, 'item')}
      </p>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Keep the schedule
        </button>
      </div>
    </form>
  )
}
