import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { EditJobDocument, type JobBodyFragment, JobChoicesDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { jobStages } from '../../model/kinds'
import { DateField } from '../../ui/DateField'
import { SelectField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { PartyField } from '../people/PartyField'
import s from './jobs.module.css'

/** How a job's evidence may be used for other clients; in code its cite. */
const cites = ['this client only', 'vessel history without names', 'named'] as const

/** Who leads the job, whom it is for, when it is due, what may be told. */
export function EditJob({ job }: { job: JobBodyFragment }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Change
      </button>
      <Sheet title={`Job ${job.number}`} open={open} onClose={() => setOpen(false)}>
        {open && <Form job={job} onDone={() => setOpen(false)} />}
      </Sheet>
    </>
  )
}

function Form({ job, onDone }: { job: JobBodyFragment; onDone: () => void }) {
  const [{ data, error: unread }, again] = useQuery({ query: JobChoicesDocument })
  const [scope, setScope] = useState(job.scope)
  const [lead, setLead] = useState(job.lead?.id ?? '')
  const [client, setClient] = useState<string | null>(job.client?.id ?? null)
  const [due, setDue] = useState<string | null>(job.dueOn ?? null)
  const [cite, setCite] = useState(job.cite)
  const [agreed, setAgreed] = useState<string | null>(job.citeAgreedOn ?? null)
  const [stage, setStage] = useState(job.stage)
  const [{ fetching, error }, edit] = useMutation(EditJobDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: job.id,
        version: job.version,
        scope: scope.trim(),
        lead: lead || null,
        client,
        dueOn: due,
        cite,
        citeAgreedOn: cite === 'this client only' ? null : agreed,
        stage,
      },
    })
    if (data) onDone()
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      {unread && <Failed error={unread} again={again} />}
      <TextArea label="What is asked" value={scope} onChange={(event) => setScope(event.target.value)} />
      <div className="fields">
        <SelectField label="Lead" value={lead} onChange={(event) => setLead(event.target.value)}>
          <option value="">nobody yet</option>
          {(data?.members.edges ?? [])
            .filter(({ node }) => !node.leftAt || node.id === lead)
            .map(({ node }) => (
              <option key={node.id} value={node.id}>
                {node.name}
              </option>
            ))}
        </SelectField>
        <DateField label="Report due on" value={due} onChange={setDue} />
        <SelectField label="Stage" value={stage} onChange={(event) => setStage(event.target.value)}>
          {jobStages.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </SelectField>
      </div>
      <PartyField label="Client" known={job.client} onFound={setClient} />
      <div className="fields">
        <SelectField
          label="May be used for other clients"
          value={cite}
          onChange={(event) => setCite(event.target.value)}
          help="Agreed in the terms, with its day."
        >
          {cites.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </SelectField>
        {cite !== 'this client only' && <DateField label="Agreed on" value={agreed} onChange={setAgreed} />}
      </div>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Write down
        </button>
      </div>
    </form>
  )
}
