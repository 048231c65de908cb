import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { type JobBodyFragment, JobChoicesDocument, RecordPermissionDocument } from '../../graphql/gen/graphql'
import { dayIn } from '../../model/dates'
import { newId } from '../../model/id'
import { permissions } from '../../model/kinds'
import { parseQuantity } from '../../model/number'
import { ChoiceField } from '../../ui/Choice'
import { Combo } from '../../ui/Combo'
import { DateField } from '../../ui/DateField'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './jobs.module.css'

type State = 'asked' | 'given' | 'refused'
type Permission = JobBodyFragment['permissions'][number]

/** A permission, dated, with the name of whoever could give it. */
export function AskPermission({ job }: { job: JobBodyFragment }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Note a permission
      </button>
      <Sheet title="A permission" open={open} onClose={() => setOpen(false)}>
        {open && <Form job={job} onDone={() => setOpen(false)} />}
      </Sheet>
    </>
  )
}

/** The answer to one that was asked for. */
export function Answered({ job, permission }: { job: JobBodyFragment; permission: Permission }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        Answered<span className="sr">: {permission.what}</span>
      </button>
      <Sheet title={`Leave to ${permission.what}`} open={open} onClose={() => setOpen(false)}>
        {open && <Form job={job} asked={permission} onDone={() => setOpen(false)} />}
      </Sheet>
    </>
  )
}

/** Whose word counts for what: said before it is asked of the wrong person. */
const whose: Record<string, string> = {
  'share the report': 'The client alone.',
  'approach the previous surveyor': 'The client, or whom that report was for.',
  photograph: 'The owner, or who acts for the owner.',
}

const destructive = ['scrape', 'open blisters', 'drill or core']

function Form({ job, asked, onDone }: { job: JobBodyFragment; asked?: Permission; onDone: () => void }) {
  const viewer = useViewer()
  const [{ data }] = useQuery({ query: JobChoicesDocument })
  const [what, setWhat] = useState<string>(asked?.what ?? permissions[0])
  const [extent, setExtent] = useState(asked?.extent ?? '')
  const [windows, setWindows] = useState(asked?.windows ? String(asked.windows) : '')
  const [wrong, setWrong] = useState<string | undefined>()
  const [state, setState] = useState<State>(asked ? 'given' : 'asked')
  const [on, setOn] = useState<string | null>(dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC'))
  const [by, setBy] = useState<string | null>(null)
  const [name, setName] = useState('')
  const [good, setGood] = useState(asked?.makesGood ?? '')
  const [note, setNote] = useState(asked?.note ?? '')
  const [{ fetching, error }, record] = useMutation(RecordPermissionDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  async function send(event: FormEvent) {
    event.preventDefault()
    const count = what === 'scrape' && windows.trim() ? parseQuantity(windows, 0) : null
    setWrong(count && !count.ok ? count.why : undefined)
    if (count && !count.ok) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: asked?.id ?? newId('prm'),
        version: asked?.version ?? 0,
        job: job.id,
        what,
        extent: extent.trim(),
        windows: count?.ok ? count.value : null,
        askedOn: state === 'asked' ? on : (asked?.askedOn ?? null),
        givenOn: state === 'given' ? on : null,
        refusedOn: state === 'refused' ? on : null,
        givenBy: state === 'asked' ? null : by,
        givenByName: state === 'asked' || by ? '' : name.trim(),
        makesGood: good.trim(),
        note: note.trim(),
      },
    })
    if (data) onDone()
  }
  const noName = at('givenBy')
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !['givenBy', 'givenOn', 'askedOn', 'windows'].includes(String(fault?.extensions?.field)) && (
        <Failed error={error} />
      )}
      {!asked && (
        <SelectField label="Leave to" value={what} onChange={(event) => setWhat(event.target.value)}>
          {permissions.map((kind) => (
            <option key={kind}>{kind}</option>
          ))}
        </SelectField>
      )}
      <TextField
        label={what === 'share the report' ? 'With whom' : what === 'scrape' ? 'Of what size, and where' : 'How far'}
        placeholder={what === 'scrape' ? '100 × 100 mm, below the waterline' : ''}
        value={extent}
        onChange={(event) => setExtent(event.target.value)}
      />
      {what === 'scrape' && (
        <NumberField
          label="How many windows in all"
          inputMode="numeric"
          value={windows}
          error={wrong ?? at('windows')}
          onChange={(event) => setWindows(event.target.value)}
          help="One more than that is stopped. Leave it empty where nobody named a number."
        />
      )}
      <ChoiceField
        label="It was"
        value={state}
        onChange={setState}
        options={[
          ...(asked ? [] : [{ value: 'asked' as const, name: 'Asked' }]),
          { value: 'given', name: 'Given' },
          { value: 'refused', name: 'Refused' },
        ]}
      />
      <DateField
        label="On"
        value={on}
        onChange={setOn}
        {...(at('givenOn') ? { error: at('givenOn') as string } : {})}
      />
      {state !== 'asked' && (
        <div className="fields">
          {data && (
            <Combo
              label="By"
              items={data.parties.edges.map(({ node }) => ({ id: node.id, name: node.name }))}
              selectedKey={by}
              onSelectionChange={(key) => setBy(key === null ? null : String(key))}
              help={whose[what] ?? 'The owner, or who acts for the owner. A buyer cannot give it.'}
              {...(noName ? { error: noName } : {})}
            />
          )}
          {!by && (
            <TextField
              label="Or somebody else, by name"
              placeholder="the seller’s broker, by letter"
              value={name}
              onChange={(event) => setName(event.target.value)}
            />
          )}
        </div>
      )}
      {destructive.includes(what) && (
        <TextField
          label="Who makes good, with what, by when"
          placeholder="the yard, epoxy and antifouling, before relaunch"
          value={good}
          onChange={(event) => setGood(event.target.value)}
        />
      )}
      <TextField label="Note" value={note} onChange={(event) => setNote(event.target.value)} />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Write down
        </button>
      </div>
    </form>
  )
}
