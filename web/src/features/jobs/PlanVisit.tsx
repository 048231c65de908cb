import { type FormEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { type JobBodyFragment, PaperChoicesDocument, PlanVisitDocument } from '../../graphql/gen/graphql'
import { dayIn, instantOf, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { visitKinds } from '../../model/kinds'
import { SelectField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { PlaceVisit } from '../board/PlaceVisit'
import s from './jobs.module.css'
import { blankPaper, dayOfPaper, OldDate, type Paper, wanted } from './OldDate'

/** One attendance that no window was proposed for, with all that stands against it; or one from an old paper. */
export function PlanVisit({ job }: { job: JobBodyFragment }) {
  const navigate = useNavigate()
  const [open, setOpen] = useState<'visit' | 'paper' | null>(null)
  const close = () => setOpen(null)
  return (
    <div className="buttons">
      <button type="button" className="plain" onClick={() => setOpen('visit')}>
        Plan another visit
      </button>
      <button type="button" className="quiet" onClick={() => setOpen('paper')}>
        Note one from an old paper
      </button>
      {open === 'visit' && <PlaceVisit job={job} onClose={close} onDone={(visit) => navigate(`/visits/${visit}`)} />}
      <Sheet title="A visit from an old paper" open={open === 'paper'} onClose={close}>
        {open === 'paper' && <Form job={job.id} vessel={job.vessel.id} />}
      </Sheet>
    </div>
  )
}

function Form({ job, vessel }: { job: string; vessel: string }) {
  const navigate = useNavigate()
  const zone = useViewer()?.practice.timeZone ?? 'UTC'
  const [{ data }] = useQuery({ query: PaperChoicesDocument, variables: { vessel } })
  const spells = (data?.vessel?.spells ?? []).filter(({ cancelled }) => !cancelled)
  const [kind, setKind] = useState('meter visit')
  const [wrong, setWrong] = useState<string | undefined>()
  const [paper, setPaper] = useState<Paper>(blankPaper)
  const [{ fetching, error }, plan] = useMutation(PlanVisitDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const on = dayOfPaper(paper)
    setWrong(on ? undefined : wanted[paper.known])
    if (!on) return
    const { data } = await plan({
      input: {
        mutation: newId('mut'),
        id: newId('vis'),
        job,
        kind,
        from: instantOf(on, '12:00', zone),
        to: instantOf(on, '13:00', zone),
        timeZone: zone,
        spell: paper.spell || null,
        datePrecision: paper.known,
        dateAsWritten: paper.written.trim(),
        daysAshoreAsWritten: paper.ashore.trim(),
      },
    })
    if (data) navigate(`/visits/${data.planVisit.visit.id}`)
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <p className="note">It was made already, by whomever.</p>
      <SelectField label="What for" value={kind} onChange={(event) => setKind(event.target.value)}>
        {visitKinds.map((name) => (
          <option key={name}>{name}</option>
        ))}
      </SelectField>
      <OldDate paper={paper} onChange={setPaper} wrong={wrong} />
      <SelectField
        label="Ashore"
        value={paper.spell}
        onChange={(event) => setPaper({ ...paper, spell: event.target.value })}
        help="Where lift or visit is known to a month or a year, it gives the days ashore as a range."
      >
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
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Keep it
        </button>
      </div>
    </form>
  )
}
