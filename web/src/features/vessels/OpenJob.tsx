import { type FormEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { AddJobDocument, ClientChoicesDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { jobKinds } from '../../model/kinds'
import { Combo } from '../../ui/Combo'
import { DateField } from '../../ui/DateField'
import { SelectField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { MemberField } from '../people/MemberField'
import s from './vessels.module.css'

/** One survey of this vessel for one client. */
export function OpenJob({ vessel }: { vessel: string }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Open a job
      </button>
      <Sheet title="Open a job" open={open} onClose={() => setOpen(false)}>
        {open && <Form vessel={vessel} />}
      </Sheet>
    </>
  )
}

function Form({ vessel }: { vessel: string }) {
  const navigate = useNavigate()
  const viewer = useViewer()
  const [{ data }] = useQuery({ query: ClientChoicesDocument })
  const [kind, setKind] = useState<string>('limited moisture')
  const [client, setClient] = useState<string | null>(null)
  const [lead, setLead] = useState<string | null>(null)
  const [scope, setScope] = useState('')
  const [due, setDue] = useState<string | null>(null)
  const [{ fetching, error }, add] = useMutation(AddJobDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('job'),
        vessel,
        kind,
        client,
        lead: lead ?? viewer?.member.id ?? null,
        scope: scope.trim(),
        dueOn: due,
      },
    })
    if (data) navigate(`/jobs/${data.addJob.job.id}`)
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <div className="fields">
        <SelectField label="Kind of survey" value={kind} onChange={(event) => setKind(event.target.value)}>
          {jobKinds.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </SelectField>
        <MemberField label="Lead" members={data?.members.edges} value={lead} onChange={setLead} />
      </div>
      {data && (
        <Combo
          label="Client"
          items={data.parties.edges.map(({ node }) => ({
            id: node.id,
            name: node.name,
            ...(node.isYard ? { note: 'yard' } : {}),
          }))}
          selectedKey={client}
          onSelectionChange={(key) => setClient(key === null ? null : String(key))}
          help="Whoever the report is for. New people are added under People."
        />
      )}
      <TextArea label="What is asked" value={scope} onChange={(event) => setScope(event.target.value)} />
      <DateField label="Due on" value={due} onChange={setDue} />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Open it
        </button>
      </div>
    </form>
  )
}
