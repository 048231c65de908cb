import { type FormEvent, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { type FollowThroughBodyFragment, WriteSeenLetterDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './followthrough.module.css'

/** Letters to insurers and lenders that say only what was seen. */
export function Letters({
  letters,
  jobs,
}: {
  letters: FollowThroughBodyFragment['letters']
  jobs: readonly { id: string; number: string; kind: string; client?: { name: string } | null }[]
}) {
  const navigate = useNavigate()
  const [open, setOpen] = useState(false)
  const [to, setTo] = useState('')
  const [reader, setReader] = useState<'insurer' | 'lender'>('insurer')
  const [reference, setReference] = useState('')
  const [job, setJob] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, write] = useMutation(WriteSeenLetterDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const fault = to.trim() ? undefined : 'Say to whom it goes.'
    setWrong(fault)
    if (fault) return
    const { data } = await write({
      input: {
        mutation: newId('mut'),
        id: newId('ltr'),
        job: job || (jobs[0]?.id ?? ''),
        addressedTo: to.trim(),
        reader,
        reference: reference.trim(),
      },
    })
    if (data) navigate(`/letters/${data.writeSeenLetter.letter.id}`)
  }

  return (
    <section style={{ marginTop: 12 }}>
      {letters.length > 0 && (
        <>
          <h2>Letters of what was seen</h2>
          <ol className={s.steps}>
            {letters.map((letter) => (
              <li key={letter.id}>
                <span className="note">{shortDay(letter.at)}</span>
                <span>
                  <Link to={`/letters/${letter.id}`}>{letter.addressedTo}</Link>
                  <span className="note">
                    {' '}
                    · {letter.reader}
                    {letter.reference && `, ${letter.reference}`}, by {letter.by}
                  </span>
                </span>
              </li>
            ))}
          </ol>
        </>
      )}
      {jobs.length > 0 && (
        <Allowed to="issue">
          <button type="button" className="plain" onClick={() => setOpen(true)}>
            Write to an insurer or lender
          </button>
        </Allowed>
      )}
      <Sheet title="A letter of what was seen" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <p className="note">
            It is made of states and evidence, and says only what somebody of the practice saw. It stays as it was
            written.
          </p>
          <TextField label="To" value={to} error={wrong} onChange={(event) => setTo(event.target.value)} />
          <ChoiceField
            label="Who is"
            value={reader}
            onChange={setReader}
            options={[
              { value: 'insurer', name: 'Insurer' },
              { value: 'lender', name: 'Lender' },
            ]}
          />
          <TextField label="Their reference" value={reference} onChange={(event) => setReference(event.target.value)} />
          <SelectField
            label="For the client of job"
            value={job || jobs[0]?.id}
            onChange={(event) => setJob(event.target.value)}
            help="Only what may be told to this client is in it."
          >
            {jobs.map(({ id, number, kind, client }) => (
              <option key={id} value={id}>
                {[number, kind, client && `for ${client.name}`].filter(Boolean).join(', ')}
              </option>
            ))}
          </SelectField>
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Write it
            </button>
          </div>
        </form>
      </Sheet>
    </section>
  )
}
