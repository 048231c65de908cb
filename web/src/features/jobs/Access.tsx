import { useRef, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import {
  AccessChoicesDocument,
  EditJobDocument,
  GiveAccessDocument,
  type JobBodyFragment,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { SelectField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './jobs.module.css'

type Person = JobBodyFragment['access'][number]

/** Whoever is nothing but a guest sees only what he or she is let into. */
const onlyGuest = ({ roles }: Pick<Person, 'roles'>) => roles.every((role) => role === 'guest')

/** Who of the practice sees the job, in words. */
export function seenBy(job: JobBodyFragment): string {
  const guests = job.access.filter(onlyGuest)
  if (job.restricted) return `only ${job.access.map(({ name }) => name).join(', ')}`
  return guests.length === 0 ? 'every member' : `every member; as guests ${guests.map(({ name }) => name).join(', ')}`
}

/** Who may see the job: every member, or those named; guests are let in one by one. */
export function Access({ job }: { job: JobBodyFragment }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Who may see it
      </button>
      <Sheet title={`Who may see job ${job.number}`} open={open} onClose={() => setOpen(false)}>
        {open && <Form job={job} />}
      </Sheet>
    </>
  )
}

function Form({ job }: { job: JobBodyFragment }) {
  const viewer = useViewer()
  const [{ data }] = useQuery({ query: AccessChoicesDocument })
  const [chosen, choose] = useState('')
  const [restricting, restrict] = useMutation(EditJobDocument)
  const [giving, give] = useMutation(GiveAccessDocument)
  const error = restricting.error ?? giving.error
  const busy = restricting.fetching || giving.fetching
  const named = job.restricted ? job.access : job.access.filter(onlyGuest)
  const others = (data?.members.edges ?? [])
    .map(({ node }) => node)
    .filter((one) => !one.leftAt && !named.some(({ id }) => id === one.id) && (job.restricted || onlyGuest(one)))
  // The button that was pressed goes with its line: the focus moves to the list's head.
  const head = useRef<HTMLHeadingElement>(null)
  const put = (member: string, allowed: boolean) =>
    give({ input: { mutation: newId('mut'), job: job.id, member, allowed } }).then((answer) => {
      head.current?.focus()
      return answer
    })
  const self = viewer?.member?.id

  return (
    <div className={s.form}>
      {error && <Failed error={error} />}
      <Tick
        checked={job.restricted}
        disabled={busy}
        onChange={(restricted) =>
          restrict({ input: { mutation: newId('mut'), id: job.id, version: job.version, restricted } })
        }
      >
        Only those named here see it
      </Tick>
      <p className="small note">
        {job.restricted
          ? 'To every other member the job, its visits and its readings are not there; the diary shows its hours as taken.'
          : 'Every member sees it. A guest, such as a rigger or an expert of another practice, sees only the jobs that he or she is let into.'}
      </p>
      <section>
        <h3 ref={head} tabIndex={-1}>
          {job.restricted ? 'Named' : 'Guests let in'}
        </h3>
        {named.length === 0 ? (
          <p className="note">No guest is let in.</p>
        ) : (
          <ul className={`plain-list ${s.access}`}>
            {named.map((one) => (
              <li key={one.id}>
                <span>
                  <b>{one.name}</b> <span className="small note">{one.roles.join(', ')}</span>
                </span>
                {job.restricted && one.id === self ? (
                  <span className="small note">you</span>
                ) : (
                  <button type="button" className="quiet" disabled={busy} onClick={() => put(one.id, false)}>
                    Take away<span className="sr">: {one.name}</span>
                  </button>
                )}
              </li>
            ))}
          </ul>
        )}
      </section>
      <form
        noValidate
        className={s.form}
        onSubmit={async (event) => {
          event.preventDefault()
          if (!chosen) return
          const { data } = await put(chosen, true)
          if (data) choose('')
        }}
      >
        {others.length === 0 ? (
          data && (
            <p className="small note">
              {job.restricted
                ? 'Every member is named.'
                : 'The practice has no other guest. Guests are invited on the page of people.'}
            </p>
          )
        ) : (
          <>
            <SelectField
              label={job.restricted ? 'Let in a member or guest' : 'Let in a guest'}
              value={chosen}
              onChange={(event) => choose(event.target.value)}
            >
              <option value="">choose</option>
              {others.map(({ id, name, roles }) => (
                <option key={id} value={id}>
                  {name}, {roles.join(', ')}
                </option>
              ))}
            </SelectField>
            <div>
              <button type="submit" className="act" disabled={busy || !chosen}>
                Let in
              </button>
            </div>
          </>
        )}
      </form>
    </div>
  )
}
