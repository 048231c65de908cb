import { type FormEvent, type ReactNode, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  type BesideEntryFragment,
  BesideEntryFragmentDoc,
  DoubleEntryFragmentDoc,
  MergePartiesDocument,
  PartiesBesideDocument,
  TellPartiesApartDocument,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { TextField } from '../../ui/Field'
import s from './people.module.css'

/** Two entries side by side, what speaks for and against their being one, and the word of whoever knows. */
export function Beside({ first, second, onDone }: { first: string; second: string; onDone: (said: string) => void }) {
  const [{ data, error }, again] = useQuery({
    query: PartiesBesideDocument,
    variables: { one: first, other: second },
    requestPolicy: 'cache-and-network',
  })
  if (data && !data.partiesBeside) return <NotFound />
  const beside = data?.partiesBeside
  return (
    <Answer data={beside} error={error} again={again} lines={10}>
      {({ alike, against, ...both }) => {
        const sides = [read(BesideEntryFragmentDoc, both.first), read(BesideEntryFragmentDoc, both.second)] as const
        return (
          <>
            <Sides sides={sides} />
            <div className={s.speaks}>
              <Speaks title="What speaks for it" list={alike} none="Nothing that can be read here." />
              <Speaks title="What speaks against" list={against} none="Nothing that can be read here." />
            </div>
            <Decide sides={sides} onDone={onDone} />
          </>
        )
      }}
    </Answer>
  )
}

type Sides = readonly [BesideEntryFragment, BesideEntryFragment]

/** A side with its masked head opened. */
function opened({ party, points }: BesideEntryFragment) {
  return { ...party, ...read(DoubleEntryFragmentDoc, party), points }
}

type Opened = ReturnType<typeof opened>

const rows: readonly [head: string, say: (one: Opened) => ReactNode][] = [
  ['is', (p) => (p.isYard ? 'yard' : p.kind)],
  ['e-mail', (p) => p.email],
  ['telephone', (p) => p.phone],
  ['where', (p) => p.address.replace(/\n/g, ', ')],
  ['notes', (p) => p.notes],
  ['is to boats', (p) => <Lines of={[...new Set(p.roles.map(({ role, vessel }) => `${role} of ${vessel.name}`))]} />],
  ['jobs', (p) => <Lines of={p.jobs.map((job) => `${job.number} ${job.vessel.name}, ${job.kind}`)} />],
  ['points to it', (p) => <Lines of={p.points.map(({ what, count }) => `${count} ${what}`)} />],
]

function Sides({ sides }: { sides: Sides }) {
  const both = sides.map(opened)
  return (
    <table className={s.sides}>
      <caption className="sr">Two entries side by side</caption>
      <thead>
        <tr>
          <td />
          {both.map((one) => (
            <th key={one.id} scope="col">
              {one.name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(([head, say]) => (
          <tr key={head}>
            <th scope="row">{head}</th>
            {both.map((one) => (
              <td key={one.id}>{say(one) || <span className="note">nothing</span>}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** As many as a side by side can hold; the rest is a number. */
const most = 8

function Lines({ of }: { of: readonly string[] }) {
  if (of.length === 0) return <span className="note">nothing</span>
  return (
    <ul className="plain-list">
      {of.slice(0, most).map((line, k) => (
        <li key={`${k} ${line}`}>{line}</li>
      ))}
      {of.length > most && <li className="note">and {of.length - most} more</li>}
    </ul>
  )
}

function Speaks({ title, list, none }: { title: string; list: readonly string[]; none: string }) {
  return (
    <section>
      <h2>{title}</h2>
      {list.length === 0 ? (
        <p className="note ruled">{none}</p>
      ) : (
        <ul className="plain-list ruled">
          {list.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </section>
  )
}

/** How much points to an entry: what most points to is the one that stays, unless somebody says otherwise. */
const pointed = ({ points }: Opened) => points.reduce((sum, { count }) => sum + count, 0)

/** One or two: said by a person, with a reason that is kept. */
function Decide({ sides, onDone }: { sides: Sides; onDone: (said: string) => void }) {
  const [one, two] = [opened(sides[0]), opened(sides[1])]
  const [kept, setKept] = useState(pointed(two) > pointed(one) ? two.id : one.id)
  const [because, setBecause] = useState('')
  const [wrong, setWrong] = useState('')
  const [merging, merge] = useMutation(MergePartiesDocument)
  const [telling, tell] = useMutation(TellPartiesApartDocument)
  const error = merging.error ?? telling.error
  const [stays, goes] = kept === one.id ? [one, two] : [two, one]

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!because.trim()) return setWrong('Say how you know that they are one: it is kept with your name.')
    const { data } = await merge({
      input: { mutation: newId('mut'), id: newId('pmg'), kept: stays.id, lost: goes.id, because },
    })
    if (data) onDone(`${goes.name} went into ${stays.name}, with all that pointed to it.`)
  }

  return (
    <form className={s.form} noValidate onSubmit={send} style={{ paddingTop: 20 }}>
      {error && <Failed error={error} />}
      <ChoiceField
        label="The entry that stays"
        value={kept}
        onChange={setKept}
        options={[one, two].map((p, k) => ({
          value: p.id,
          name: one.name === two.name ? `${p.name}, ${k ? 'right' : 'left'}` : p.name,
        }))}
        help={`Where it stands empty it takes what ${goes.name} says. Jobs, enquiries, links, permissions and all else that points to ${goes.name} follow; issued reports and invoices stay as they were issued. It can be undone.`}
      />
      <TextField
        label="How you know that they are one"
        value={because}
        error={wrong}
        maxLength={500}
        onChange={(event) => {
          setWrong('')
          setBecause(event.target.value)
        }}
      />
      <div className="buttons">
        <button type="submit" className="act" disabled={merging.fetching}>
          Make them one
        </button>
        <button
          type="button"
          className="plain"
          disabled={telling.fetching}
          onClick={async () => {
            const { data } = await tell({
              input: { mutation: newId('mut'), one: one.id, other: two.id, because },
            })
            if (data) onDone(`${one.name} and ${two.name} are two. They are not asked about again.`)
          }}
        >
          They are two
        </button>
        <button type="button" className="quiet" onClick={() => onDone('')}>
          Back to the list
        </button>
      </div>
    </form>
  )
}
