import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { JobsOfVesselDocument, MoveReinspectionDocument, type ReinspectionRowFragment } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { SelectField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './reinspections.module.css'

type State = 'booked' | 'snoozed' | 'declined' | 'due'

/** Books, puts off or declines, each with what it owes: a job, a day, a reason. */
export function Move({ r, onClose, onDone }: { r: ReinspectionRowFragment; onClose: () => void; onDone: () => void }) {
  const [{ data: jobs }] = useQuery({ query: JobsOfVesselDocument, variables: { vessel: r.vessel.id } })
  const [state, setState] = useState<State>('booked')
  const [reason, setReason] = useState('')
  const [until, setUntil] = useState<string | null>(null)
  const open = (jobs?.vessel?.jobs ?? []).filter(({ stage }) => !['closed', 'cancelled', 'issued'].includes(stage))
  const [job, setJob] = useState('')
  const [{ fetching, error }, move] = useMutation(MoveReinspectionDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const noReason = at('reason')
  const noUntil = at('until')

  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await move({
      input: {
        mutation: newId('mut'),
        id: r.id,
        version: r.version,
        state,
        reason: reason.trim(),
        snoozedUntil: state === 'snoozed' ? until : null,
        job: state === 'booked' ? job || (open[0]?.id ?? null) : null,
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title={`${r.vessel.name}, to be seen again`} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !fault?.extensions?.field && <Failed error={error} />}
        <ChoiceField
          label="It is"
          value={state}
          onChange={setState}
          options={[
            { value: 'booked', name: 'Booked' },
            { value: 'snoozed', name: 'Put off' },
            { value: 'declined', name: 'Declined' },
            ...(r.state === 'due' ? [] : [{ value: 'due' as const, name: 'Due again' }]),
          ]}
        />
        {state === 'booked' &&
          (open.length > 0 ? (
            <SelectField label="In job" value={job || open[0]?.id} onChange={(event) => setJob(event.target.value)}>
              {open.map(({ id, number, kind }) => (
                <option key={id} value={id}>
                  {number}, {kind}
                </option>
              ))}
            </SelectField>
          ) : (
            <p className="note">{r.vessel.name} has no open job. Open one from her brief, then book this in it.</p>
          ))}
        {state === 'snoozed' && (
          <DateField label="Until" value={until} onChange={setUntil} {...(noUntil ? { error: noUntil } : {})} />
        )}
        {(state === 'snoozed' || state === 'declined') && (
          <TextArea
            label={state === 'declined' ? 'Who declined, and why' : 'Why'}
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            error={noReason}
            help="The reason stays with it."
          />
        )}
        <div>
          <button type="submit" className="act" disabled={fetching || (state === 'booked' && open.length === 0)}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
