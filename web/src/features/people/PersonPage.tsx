import { useState } from 'react'
import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import { type PersonFragment, PersonFragmentDoc, PersonPageDocument } from '../../graphql/gen/graphql'
import { actions } from '../../model/actions'
import { shortDay } from '../../model/dates'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { Holds } from '../privacy/Holds'
import { Kept } from '../privacy/Kept'
import { AddPart } from './AddPart'
import { EditParty } from './EditParty'
import { overTime, type PartOverTime } from './parts'
import s from './people.module.css'

/** One of those whom the practice deals with: how to reach them, what they are to which boat, their jobs. */
export default function PersonPage() {
  const { id = '' } = useParams()
  const [{ data, error }, ask] = useQuery({ query: PersonPageDocument, variables: { id } })
  const again = () => ask({ requestPolicy: 'network-only' })
  const person = data?.node?.__typename === 'Party' ? read(PersonFragmentDoc, data.node) : null
  if (data && !person) return <NotFound />
  const may = data?.viewer.may.includes(actions.writePeople) ?? false
  return (
    <>
      <Running
        title={person?.name ?? 'Person'}
        page={person?.name ?? 'Person'}
        right={<Link to="/people">People</Link>}
      >
        {person && (person.isYard ? 'a yard' : person.kind === 'person' ? 'a person' : 'an organisation')}
      </Running>
      <main id="main" className={`two ${s.person}`}>
        <Answer data={person} error={error} again={again}>
          {(person) => (
            <>
              <aside>
                <Particulars person={person} may={may} />
                <Holds of={{ party: person.id }} />
              </aside>
              <div>
                <Parts person={person} may={may} onDone={again} />
                <Jobs person={person} />
                <Kept id={person.id} />
                <Invented show={data?.viewer.practice.invented} />
              </div>
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

function Particulars({ person, may }: { person: PersonFragment; may: boolean }) {
  const [open, setOpen] = useState(false)
  return (
    <section>
      <h2>To reach them</h2>
      <dl className="facts">
        <dt>e-mail</dt>
        <dd>{person.email ? <a href={`mailto:${person.email}`}>{person.email}</a> : 'not known'}</dd>
        <dt>telephone</dt>
        <dd>{person.phone ? <a href={`tel:${person.phone.replace(/\s/g, '')}`}>{person.phone}</a> : 'not known'}</dd>
        <dt>address</dt>
        <dd className={s.lines}>{person.address || 'not known'}</dd>
        {person.isYard && (
          <>
            <dt>yard</dt>
            <dd>
              <Link to={`/yards/${person.id}`}>slots, tides, rules</Link>
            </dd>
            <dt>time zone</dt>
            <dd>{person.timeZone ?? 'that of the practice'}</dd>
          </>
        )}
        {person.notes && (
          <>
            <dt>notes</dt>
            <dd className={s.lines}>{person.notes}</dd>
          </>
        )}
      </dl>
      {may && (
        <p className={s.ways}>
          <button type="button" className="plain" onClick={() => setOpen(true)}>
            Change
          </button>
        </p>
      )}
      {open && <EditParty person={person} onClose={() => setOpen(false)} />}
    </section>
  )
}

function Parts({ person, may, onDone }: { person: PersonFragment; may: boolean; onDone: () => void }) {
  const [open, setOpen] = useState(false)
  return (
    <section>
      <div className={s.head}>
        <h2>What they are to which boat</h2>
        {may && (
          <button type="button" className="plain push" onClick={() => setOpen(true)}>
            Add a part
          </button>
        )}
      </div>
      {person.roles.length === 0 ? (
        <p className="note">
          Nothing is written down: an owner gives leave, and earlier parts are what a new enquiry is held against.
        </p>
      ) : (
        <Table
          caption="What they are to which boat"
          hideCaption
          columns={[
            { head: 'part', names: true, cell: (part) => part.role },
            { head: 'boat', cell: (part) => <Link to={`/vessels/${part.vessel.id}`}>{part.vessel.name}</Link> },
            { head: 'from', nowrap: true, cell: (part) => part.from && shortDay(part.from) },
            { head: 'to', nowrap: true, cell: (part) => part.to && shortDay(part.to) },
            { head: 'jobs', cell: ({ jobs }) => jobs.length > 0 && <JobLinks jobs={jobs} /> },
          ]}
          rows={overTime(person.roles)}
          id={(part) => part.id}
        />
      )}
      {open && <AddPart of={{ party: person.id }} onClose={() => setOpen(false)} onDone={onDone} />}
    </section>
  )
}

function JobLinks({ jobs }: { jobs: PartOverTime['jobs'] }) {
  return (
    <ul className={s.jobs}>
      {jobs.map(({ id, number }) => (
        <li key={id}>
          <Link to={`/jobs/${id}`}>{number}</Link>
        </li>
      ))}
    </ul>
  )
}

function Jobs({ person }: { person: PersonFragment }) {
  return (
    <section>
      <h2>Jobs for them</h2>
      {person.jobs.length === 0 ? (
        <p className="note">None.</p>
      ) : (
        <Table
          caption="Jobs for them"
          hideCaption
          columns={[
            { head: 'job', names: true, cell: (job) => <Link to={`/jobs/${job.id}`}>{job.number}</Link> },
            { head: 'boat', cell: (job) => <Link to={`/vessels/${job.vessel.id}`}>{job.vessel.name}</Link> },
            { head: 'kind', cell: (job) => job.kind },
            { head: 'stage', cell: (job) => job.stage },
            { head: 'due', nowrap: true, cell: (job) => job.dueOn && shortDay(job.dueOn) },
          ]}
          rows={person.jobs}
          id={(job) => job.id}
        />
      )}
    </section>
  )
}
