import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type DryingLogFragment, SetDryingCourseDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseTenths } from '../../model/number'
import { DateField } from '../../ui/DateField'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './drying.module.css'

/** From when she dries, through how thick a wall, in which air, and which contrast the band of weeks is asked for. */
export function SetCourse({ log }: { log: DryingLogFragment }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain no-print" onClick={() => setOpen(true)}>
        What it is looked at by
      </button>
      {open && <Form log={log} onClose={() => setOpen(false)} />}
    </>
  )
}

function Form({ log, onClose }: { log: DryingLogFragment; onClose: () => void }) {
  const { course } = log
  const [began, setBegan] = useState<string | null>(course.beganOn ?? null)
  const [said, setSaid] = useState({
    wall: course.wallMm?.toString() ?? '',
    inside: course.inside,
    tent: course.tentPlace,
    outdoors: course.outdoorsPlace,
    target: course.targetTenths == null ? '' : (course.targetTenths / 10).toString(),
    because: course.targetBecause,
  })
  const [{ fetching, error }, set] = useMutation(SetDryingCourseDocument)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const wall = parseTenths(said.wall)
  const target = parseTenths(said.target)
  const wrongWall = said.wall.trim() !== '' && !wall.ok
  const wrongTarget = said.target.trim() !== '' && !target.ok
  async function send(event: FormEvent) {
    event.preventDefault()
    if (wrongWall || wrongTarget) return
    const { data } = await set({
      input: {
        mutation: newId('mut'),
        job: log.job.id,
        version: course.version,
        beganOn: began,
        wallMm: wall.ok ? Math.round(wall.value / 10) : null,
        inside: said.inside,
        tentPlace: said.tent.trim(),
        outdoorsPlace: said.outdoors.trim(),
        targetTenths: target.ok ? target.value : null,
        targetBecause: said.because.trim(),
        note: course.note,
      },
    })
    if (data) onClose()
  }
  return (
    <Sheet title="What it is looked at by" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <DateField label="Drying began on" value={began} onChange={setBegan} />
        <div className="fields">
          <NumberField
            label="Wall"
            unit="mm"
            value={said.wall}
            onChange={put('wall')}
            error={wrongWall ? 'Give a number' : undefined}
          />
          <SelectField label="Inside" value={said.inside} onChange={put('inside')}>
            <option value="">not known</option>
            <option>no water</option>
            <option>water stands there</option>
          </SelectField>
        </div>
        <div className="fields">
          <TextField label="Her cover’s air, by its name in the log" value={said.tent} onChange={put('tent')} />
          <TextField label="Outdoors, by its name in the log" value={said.outdoors} onChange={put('outdoors')} />
        </div>
        <div className="fields">
          <NumberField
            label="Asked: when at"
            unit="units above dry"
            value={said.target}
            onChange={put('target')}
            error={wrongTarget ? 'Give a number' : undefined}
            help="A question about the course, answered in a band of weeks; no limit."
          />
          <TextField label="Because" value={said.because} onChange={put('because')} />
        </div>
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Keep
          </button>
        </div>
      </form>
    </Sheet>
  )
}
