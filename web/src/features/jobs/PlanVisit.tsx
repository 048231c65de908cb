import { type FormEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { PlanChoicesDocument, PlanVisitDocument } from '../../graphql/gen/graphql'
import { dayIn, instantOf, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { visitKinds } from '../../model/kinds'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { MemberField } from '../people/MemberField'
import s from './jobs.module.css'
import { blankPaper, dayOfPaper, OldDate, type Paper, wanted } from './OldDate'

interface Props {
  job: string
  vessel: string
}

/** One attendance that no window was proposed for, or one from an old paper, set on a spell ashore where there is one. */
export function PlanVisit(props: Props) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Plan another visit
      </button>
      <Sheet title="Plan a visit" open={open} onClose={() => setOpen(false)}>
        {open && <Form {...props} />}
      </Sheet>
    </>
  )
}

function Form({ job, vessel }: Props) {
  const navigate = useNavigate()
  const viewer = useViewer()
  const zone = viewer?.practice.timeZone ?? 'UTC'
  const [{ data }] = useQuery({ query: PlanChoicesDocument, variables: { vessel } })
  const [kind, setKind] = useState('meter visit')
  const [day, setDay] = useState<string | null>(dayIn(Date.now(), zone))
  const [from, setFrom] = useState('09:00')
  const [to, setTo] = useState('12:00')
  const [spell, setSpell] = useState<string | null>(null)
  const [lead, setLead] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string | undefined>()
  const [paper, setPaper] = useState<Paper | null>(null)
  const [{ fetching, error }, plan] = useMutation(PlanVisitDocument)
  const spells = (data?.vessel?.spells ?? []).filter(({ cancelled }) => !cancelled)
  const chosen = spells.find(({ id }) => id === spell) ?? spells.at(-1)
  const own = spell === '' ? null : (chosen ?? null)

  async function send(event: FormEvent) {
    event.preventDefault()
    if (paper) return sendOld(paper)
    const times = [from, to].every((time) => /^([01]?\d|2[0-3])[:.][0-5]\d$/.test(time))
    setWrong(!times ? 'as 09:00' : !day ? 'give the day' : undefined)
    if (!times || !day) return
    const at = own?.timeZone ?? zone
    const { data } = await plan({
      input: {
        mutation: newId('mut'),
        id: newId('vis'),
        job,
        kind,
        spell: own?.id ?? null,
        from: instantOf(day, from.replace('.', ':'), at),
        to: instantOf(day, to.replace('.', ':'), at),
        timeZone: at,
        lead: lead ?? viewer?.member.id ?? null,
      },
    })
    if (data) navigate(`/visits/${data.planVisit.visit.id}`)
  }

  async function sendOld(old: Paper) {
    const on = dayOfPaper(old)
    setWrong(on ? undefined : wanted[old.known])
    if (!on) return
    const from = instantOf(on, '12:00', zone)
    const { data } = await plan({
      input: {
        mutation: newId('mut'),
        id: newId('vis'),
        job,
        kind,
        from,
        to: instantOf(on, '13:00', zone),
        timeZone: zone,
        spell: old.spell || null,
        datePrecision: old.known,
        dateAsWritten: old.written.trim(),
        daysAshoreAsWritten: old.ashore.trim(),
      },
    })
    if (data) navigate(`/visits/${data.planVisit.visit.id}`)
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <Tick checked={paper !== null} onChange={(on) => setPaper(on ? blankPaper : null)}>
        From an old paper: it was made already, by whomever
      </Tick>
      <div className="fields">
        <SelectField label="What for" value={kind} onChange={(event) => setKind(event.target.value)}>
          {visitKinds.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </SelectField>
        {!paper && <MemberField label="Who" members={data?.members.edges} value={lead} onChange={setLead} />}
      </div>
      {paper ? (
        <>
          <OldDate paper={paper} onChange={setPaper} wrong={wrong} />
          <SpellField
            spells={spells}
            value={paper.spell}
            onChange={(id) => setPaper({ ...paper, spell: id })}
            help="Where lift or visit is known to a month or a year, it gives the days ashore as a range."
          />
        </>
      ) : (
        <>
          <div className="fields">
            <DateField label="Day" value={day} onChange={setDay} />
            <TextField
              label="From"
              value={from}
              onChange={(event) => setFrom(event.target.value)}
              error={wrong}
              inputMode="text"
            />
            <TextField label="To" value={to} onChange={(event) => setTo(event.target.value)} />
          </div>
          <SpellField
            spells={spells}
            value={own?.id ?? ''}
            onChange={setSpell}
            help="The spell gives the days ashore; without one the pass says that they are not known."
          />
        </>
      )}
      <div>
        <button type="submit" className="act" disabled={fetching}>
          {paper ? 'Keep it' : 'Plan it'}
        </button>
      </div>
    </form>
  )
}

interface SpellChoice {
  id: string
  timeZone: string
  plannedLift?: string | null
  actualLift?: string | null
  yard?: { name: string } | null
}

/** The time ashore that a visit belongs to; '' for none. */
function SpellField({
  spells,
  value,
  onChange,
  help,
}: {
  spells: readonly SpellChoice[]
  value: string
  onChange: (id: string) => void
  help: string
}) {
  return (
    <SelectField label="Ashore" value={value} onChange={(event) => onChange(event.target.value)} help={help}>
      {spells.map((each) => {
        const lift = each.actualLift ?? each.plannedLift
        return (
          <option key={each.id} value={each.id}>
            {[each.yard?.name, lift && `lifted ${shortDay(dayIn(lift, each.timeZone))}`].filter(Boolean).join(', ')}
          </option>
        )
      })}
      <option value="">no spell: afloat, or not known</option>
    </SelectField>
  )
}
