import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { type JobBodyFragment, RecordPermissionDocument, RecordPermissionsDocument } from '../../graphql/gen/graphql'
import { dayIn } from '../../model/dates'
import { newId } from '../../model/id'
import { permissions } from '../../model/kinds'
import { parseQuantity } from '../../model/number'
import { capital } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Cross } from '../../ui/signs'
import { Tick } from '../../ui/Tick'
import { PartyField } from '../people/PartyField'
import s from './jobs.module.css'

type State = 'asked' | 'given' | 'refused'
type Permission = JobBodyFragment['permissions'][number]
/** How far leave of one kind goes; of scraping, also how many windows in all. */
interface Extent {
  extent: string
  windows: string
}

/** What somebody was asked, gave or refused on one day: dated permissions with a name. */
export function AskPermission({ job }: { job: JobBodyFragment }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Note a permission
      </button>
      <Sheet title="What was asked or allowed" open={open} onClose={() => setOpen(false)}>
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
  'share the report': 'the client alone',
  'approach the previous surveyor': 'the client, or whom that report was for',
}
const owners = 'the owner, or who acts for the owner. A buyer cannot give it.'

function whoseWord(kinds: readonly string[]): string {
  const others = kinds.filter((kind) => whose[kind])
  if (others.length === 0) return capital(owners)
  const said = others.map((kind) => `${capital(kind)}: ${whose[kind]}.`)
  return [...said, ...(others.length < kinds.length ? [`The rest: ${owners}`] : [])].join(' ')
}

const destructive = ['scrape', 'open blisters', 'drill or core']

function Form({ job, asked, onDone }: { job: JobBodyFragment; asked?: Permission; onDone: () => void }) {
  const viewer = useViewer()
  const [of, setOf] = useState<Record<string, Extent>>(
    asked ? { [asked.what]: { extent: asked.extent, windows: asked.windows ? String(asked.windows) : '' } } : {},
  )
  const [wrong, setWrong] = useState<string | undefined>()
  const [state, setState] = useState<State>(asked ? 'given' : 'asked')
  const [on, setOn] = useState<string | null>(dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC'))
  const [by, setBy] = useState<string | null>(null)
  const [name, setName] = useState('')
  const [good, setGood] = useState(asked?.makesGood ?? '')
  const [note, setNote] = useState(asked?.note ?? '')
  const [one, record] = useMutation(RecordPermissionDocument)
  const [several, recordAll] = useMutation(RecordPermissionsDocument)
  const error = one.error ?? several.error
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const kinds = permissions.filter((kind) => of[kind])
  const scraping = of.scrape?.windows.trim() ? parseQuantity(of.scrape.windows, 0) : null

  async function send(event: FormEvent) {
    event.preventDefault()
    const bad = scraping && !scraping.ok ? scraping.why : undefined
    setWrong(bad ?? (kinds.length === 0 ? 'Tick what it is about.' : undefined))
    if (bad || kinds.length === 0) return
    const said = {
      mutation: newId('mut'),
      job: job.id,
      askedOn: state === 'asked' ? on : (asked?.askedOn ?? null),
      givenOn: state === 'given' ? on : null,
      refusedOn: state === 'refused' ? on : null,
      givenBy: state === 'asked' ? null : by,
      givenByName: state === 'asked' || by ? '' : name.trim(),
      makesGood: good.trim(),
      note: note.trim(),
    }
    const far = (what: string) => ({
      what,
      extent: of[what]?.extent.trim() ?? '',
      windows: what === 'scrape' && scraping?.ok ? scraping.value : null,
    })
    const { data } = asked
      ? await record({ input: { ...said, ...far(asked.what), id: asked.id, version: asked.version } })
      : await recordAll({ input: { ...said, permissions: kinds.map((kind) => ({ id: newId('prm'), ...far(kind) })) } })
    if (data) onDone()
  }
  const noName = at('givenBy')
  const put = (kind: string, next: Extent | null) => {
    const { [kind]: _, ...rest } = of
    setOf(next ? { ...rest, [kind]: next } : rest)
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !['givenBy', 'givenOn', 'windows'].includes(String(fault?.extensions?.field)) && (
        <Failed error={error} />
      )}
      {asked ? (
        <HowFar
          kind={asked.what}
          of={of[asked.what] ?? { extent: '', windows: '' }}
          error={wrong ?? at('windows')}
          onChange={(next) => put(asked.what, next)}
        />
      ) : (
        <fieldset className={s.kinds}>
          <legend className="label">Leave to</legend>
          {permissions.map((kind) => (
            <div key={kind}>
              <Tick checked={kind in of} onChange={(ticked) => put(kind, ticked ? { extent: '', windows: '' } : null)}>
                {capital(kind)}
              </Tick>
              {of[kind] && (
                <HowFar
                  kind={kind}
                  of={of[kind]}
                  error={(scraping && !scraping.ok && wrong) || at('windows')}
                  onChange={(next) => put(kind, next)}
                />
              )}
            </div>
          ))}
          {wrong && kinds.length === 0 && (
            <p className="error" role="alert">
              <Cross />
              {wrong}
            </p>
          )}
        </fieldset>
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
          <PartyField label="By" onFound={setBy} help={whoseWord(kinds)} error={noName} />
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
      {kinds.some((kind) => destructive.includes(kind)) && (
        <TextField
          label="Who makes good, with what, by when"
          placeholder="the yard, epoxy and antifouling, before relaunch"
          value={good}
          onChange={(event) => setGood(event.target.value)}
        />
      )}
      <TextField label="Note" value={note} onChange={(event) => setNote(event.target.value)} />
      <div>
        <button type="submit" className="act" disabled={one.fetching || several.fetching}>
          Write down
        </button>
      </div>
    </form>
  )
}

/** How far leave of one kind goes. */
function HowFar({
  kind,
  of,
  error,
  onChange,
}: {
  kind: string
  of: Extent
  error: string | undefined
  onChange: (of: Extent) => void
}) {
  return (
    <div role="group" aria-label={capital(kind)} className="fields">
      <TextField
        label={kind === 'share the report' ? 'With whom' : kind === 'scrape' ? 'Of what size, and where' : 'How far'}
        placeholder={kind === 'scrape' ? '100 × 100 mm, below the waterline' : ''}
        value={of.extent}
        onChange={(event) => onChange({ ...of, extent: event.target.value })}
      />
      {kind === 'scrape' && (
        <NumberField
          label="How many windows in all"
          inputMode="numeric"
          value={of.windows}
          error={error}
          onChange={(event) => onChange({ ...of, windows: event.target.value })}
          help="One more than that is stopped. Empty where nobody named a number."
        />
      )}
    </div>
  )
}
