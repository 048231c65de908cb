import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { AddRecommendationDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { SelectField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { useTyped } from '../../ui/useTyped'
import { AdviceFields, blank, tooMuch } from './AdviceFields'
import s from './vessels.module.css'

/** One thing to do or to know, written as a draft of a job. */
export function Recommend({ vessel, jobs }: { vessel: string; jobs: readonly { id: string; number: string }[] }) {
  const [open, setOpen] = useState(false)
  const [job, setJob] = useState('')
  const [said, setSaid] = useTyped(`advice/${vessel}`, blank)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, add] = useMutation(AddRecommendationDocument)
  const { at, rest } = faults(error, 'what', 'grade', 'sure')
  if (jobs.length === 0) return null

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!said.what.trim() || tooMuch(said)) return
    const { data } = await add({
      input: { mutation: newId('mut'), id: newId('rec'), job: job || (jobs[0]?.id ?? ''), ...said },
    })
    if (!data) return
    setOpen(false)
    setTried(false)
    setSaid(blank)
  }

  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Recommend something
      </button>
      <Sheet title="Recommend" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {rest && <Failed error={rest} />}
          <AdviceFields said={said} onChange={(change) => setSaid({ ...said, ...change })} tried={tried} at={at}>
            <SelectField label="In job" value={job || jobs[0]?.id} onChange={(event) => setJob(event.target.value)}>
              {jobs.map(({ id, number }) => (
                <option key={id} value={id}>
                  {number}
                </option>
              ))}
            </SelectField>
          </AdviceFields>
          <div>
            <button type="submit" className="act" disabled={fetching || tooMuch(said)}>
              Recommend it
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
