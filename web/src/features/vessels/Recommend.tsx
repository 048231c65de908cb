import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddRecommendationDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { abouts, fromReadings, grades } from '../../model/kinds'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { gradeWords } from '../../ui/Grade'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './vessels.module.css'

type Sureness = 'seen' | 'indicated' | 'suspected'

/** One thing to do or to know, with how urgent and how sure kept apart. */
export function Recommend({ jobs }: { jobs: readonly { id: string; number: string }[] }) {
  const [open, setOpen] = useState(false)
  const [job, setJob] = useState('')
  const [grade, setGrade] = useState<string>('watch')
  const [sure, setSure] = useState<Sureness>('indicated')
  const [readingsOnly, setReadingsOnly] = useState(true)
  const [said, setSaid] = useState({ what: '', reason: '', whoActs: '', closedBy: '' })
  const [about, setAbout] = useState('')
  const [by, setBy] = useState<string | null>(null)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, add] = useMutation(AddRecommendationDocument)
  const fault = error?.graphQLErrors[0]
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const too = readingsOnly && !fromReadings(grade)
  if (jobs.length === 0) return null

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!said.what.trim() || too) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('rec'),
        job: job || (jobs[0]?.id ?? ''),
        grade,
        sure,
        readingsOnly,
        ...said,
        byOn: by,
        about,
      },
    })
    if (!data) return
    setOpen(false)
    setTried(false)
    setSaid({ what: '', reason: '', whoActs: '', closedBy: '' })
  }

  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Recommend something
      </button>
      <Sheet title="Recommend" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <TextArea
            label="What to do"
            value={said.what}
            onChange={put('what')}
            error={
              tried && !said.what.trim()
                ? 'Say what should be done'
                : fault?.extensions?.field === 'what'
                  ? fault.message
                  : undefined
            }
          />
          <div className="fields">
            <SelectField label="How urgent" value={grade} onChange={(event) => setGrade(event.target.value)}>
              {grades.map((each) => (
                <option key={each} value={each}>
                  {gradeWords(each)}
                </option>
              ))}
            </SelectField>
            <SelectField label="In job" value={job || jobs[0]?.id} onChange={(event) => setJob(event.target.value)}>
              {jobs.map(({ id, number }) => (
                <option key={id} value={id}>
                  {number}
                </option>
              ))}
            </SelectField>
          </div>
          <ChoiceField
            label="How sure"
            value={sure}
            onChange={setSure}
            options={[
              { value: 'seen', name: 'Seen' },
              { value: 'indicated', name: 'Indicated' },
              { value: 'suspected', name: 'Suspected' },
            ]}
          />
          <Tick checked={readingsOnly} onChange={setReadingsOnly}>
            Rests on readings alone
          </Tick>
          {too && (
            <p className="small" role="alert" style={{ color: 'var(--warn)' }}>
              Readings alone carry Watch, Look further or For the record, and nothing above: they name no cause.
            </p>
          )}
          <SelectField
            label="What the next look depends on"
            value={about}
            onChange={(event) => setAbout(event.target.value)}
            help="When the report is issued, the practice’s rules propose a window from it."
          >
            {abouts.map(([kind, words]) => (
              <option key={kind} value={kind}>
                {words}
              </option>
            ))}
          </SelectField>
          <TextField label="Because" value={said.reason} onChange={put('reason')} />
          <div className="fields">
            <TextField label="Who acts" placeholder="yard" value={said.whoActs} onChange={put('whoActs')} />
            <DateField label="By" value={by} onChange={setBy} />
            <TextField label="Closed by" placeholder="photo of each" value={said.closedBy} onChange={put('closedBy')} />
          </div>
          <div>
            <button type="submit" className="act" disabled={fetching || too}>
              Recommend it
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
