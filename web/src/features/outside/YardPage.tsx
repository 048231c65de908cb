import { useEffect } from 'react'
import { useQuery } from 'urql'
import { YardSlotsDocument, type YardSlotsQuery } from '../../graphql/gen/graphql'
import { dayIn, longDay, timeIn } from '../../model/dates'
import { metres } from '../../model/words'
import { Opened, Outside } from './Outside'
import s from './shared.module.css'

type Slots = NonNullable<YardSlotsQuery['yardSlots']>
type Slot = Slots['slots'][number]

/** What a yard is shown by its link: its own slots, no client, no job, nobody's name. */
export default function YardPage() {
  return (
    <Outside>
      <Yard />
    </Outside>
  )
}

function Yard() {
  const [{ data, error }, again] = useQuery({ query: YardSlotsDocument })
  const slots = data ? (data.yardSlots ?? null) : undefined
  useEffect(() => {
    if (slots) document.title = `${slots.yardName}, slots of ${slots.practiceName}`
  }, [slots])
  return (
    <Opened data={slots} error={error} again={again} kind="Slots of a yard, by link">
      {(yard) => (
        <>
          <header className={s.cover}>
            <p className={s.kind}>Boats of {yard.practiceName}’s surveys</p>
            <h1>{yard.yardName}</h1>
            <p>
              For {yard.forName}, until {longDay(yard.openUntil)}. Times are the yard’s own.
            </p>
          </header>
          {yard.slots.length === 0 && <p>No boat is to be lifted, and none stands ashore.</p>}
          {yard.slots.map((slot) => (
            <OneSlot key={`${slot.boat}/${slot.lift}`} slot={slot} />
          ))}
          {yard.invented && <p className="small note">An invented practice, boats and yard: a demonstration.</p>}
        </>
      )}
    </Opened>
  )
}

function OneSlot({ slot }: { slot: Slot }) {
  const at = (when: string | null | undefined) =>
    when ? `${longDay(dayIn(when, slot.timeZone))}, ${timeIn(when, slot.timeZone)}` : ''
  const facts: [string, string][] = [
    [slot.lifted ? 'lifted' : slot.askedOnly ? 'lift asked for' : 'lift', at(slot.lift)],
    ['wash', at(slot.washAt)],
    ['chocks', at(slot.chockAt)],
    ['move', at(slot.shiftAt)],
    [slot.launched ? 'launched' : 'launch', at(slot.launch)],
    ['held', [slot.held, slot.underCover && 'under cover'].filter(Boolean).join(', ')],
    ['told', slot.told],
  ]
  return (
    <section className={s.todo}>
      <h2 style={{ margin: 0 }}>{slot.boat}</h2>
      <p className="note">{[slot.boatKind, slot.loaMm && metres(slot.loaMm)].filter(Boolean).join(', ')}</p>
      <dl className="facts">
        {facts
          .filter(([, is]) => is)
          .map(([what, is]) => (
            <div key={what} style={{ display: 'contents' }}>
              <dt>{what}</dt>
              <dd>{is}</dd>
            </div>
          ))}
      </dl>
      {slot.askedOnly && <p className="small">Not yet agreed: please answer the practice.</p>}
    </section>
  )
}
