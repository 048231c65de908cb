import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import {
  type FollowThroughBodyFragment,
  SetRecommendationStateDocument,
  type VesselAdviceQuery,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { needsReason, nextStates } from '../../model/follow'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { SelectField, TextField } from '../../ui/Field'
import { Grade } from '../../ui/Grade'
import { Sheet } from '../../ui/Sheet'
import { ClientSaid } from '../vessels/ClientWord'
import { Danger } from './Danger'
import { Show, Shown } from './Evidence'
import s from './followthrough.module.css'

export type Advice = NonNullable<VesselAdviceQuery['vessel']>['recommendations'][number]

interface Props {
  advice: Advice
  vessel: string
  follow: FollowThroughBodyFragment
  onClose: () => void
}

/** One recommendation through the years: its steps, what shows how far it has got, and the next step. */
export function FollowSheet({ advice, vessel, follow, onClose }: Props) {
  const evidence = follow.evidence.filter(({ recommendation }) => recommendation === advice.id)
  const dangers = follow.dangers.filter(({ recommendation }) => recommendation === advice.id)
  return (
    <Sheet title="Followed through" open onClose={onClose} wide>
      <div className={s.body}>
        <p>
          <Grade grade={advice.grade} />
        </p>
        <p className="measure">
          <b>{advice.what}</b> {advice.reason}
        </p>
        {advice.closedBy && <p className="note">Closed by: {advice.closedBy}</p>}
        {advice.state !== 'draft' && (
          <p className="small note">It was issued and keeps its words: move it on below, or recommend anew.</p>
        )}
        <section>
          <h3>Its story</h3>
          <ol className={s.steps}>
            {advice.states.map((step, k) => (
              <li key={k}>
                <span className="note">{shortDay(step.at)}</span>
                <span>
                  <b>{capital(step.state)}</b>
                  {step.by && `, ${step.by}`}
                  {step.reason && <span className="note"> · {step.reason}</span>}
                </span>
              </li>
            ))}
            {advice.states.length === 0 && <li className={s.whole}>A draft: it is issued with its report.</li>}
          </ol>
        </section>
        <Shown evidence={evidence} />
        <ClientSaid vessel={vessel} recommendation={advice.id} className={s.steps} />
        {advice.state !== 'draft' && <Move advice={advice} />}
        {advice.state !== 'draft' && <Show advice={advice} vessel={vessel} />}
        {advice.grade === 'stop' && (
          <Allowed to="recommend">
            <Danger recommendation={advice.id} notices={dangers} />
          </Allowed>
        )}
      </div>
    </Sheet>
  )
}

/** The next step. Only a person who saw it says that it is done. */
function Move({ advice }: { advice: Advice }) {
  const sees = useMay('writeVisit')
  const next = nextStates(advice.state).filter((to) => sees || to !== 'seen done')
  const [state, setState] = useState(next[0] ?? '')
  const [reason, setReason] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, move] = useMutation(SetRecommendationStateDocument)
  const chosen = next.includes(state) ? state : (next[0] ?? '')
  if (next.length === 0) return null

  async function send(event: FormEvent) {
    event.preventDefault()
    const fault =
      needsReason(chosen) && !reason.trim() ? 'Give the reason; it stays with the recommendation.' : undefined
    setWrong(fault)
    if (fault) return
    const { data } = await move({
      input: {
        mutation: newId('mut'),
        id: newId('sta'),
        recommendation: advice.id,
        state: chosen,
        reason: reason.trim(),
      },
    })
    if (data) setReason('')
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      <h3>Move it on</h3>
      {error && <Failed error={error} />}
      <div className={s.pair}>
        <SelectField
          label="It is now"
          value={chosen}
          onChange={(event) => setState(event.target.value)}
          help={
            chosen === 'seen done'
              ? 'For whoever was there and saw it, and nobody else.'
              : sees
                ? undefined
                : 'Seen done is set by whoever was there and saw it.'
          }
        >
          {next.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </SelectField>
        <TextField
          label={needsReason(chosen) ? 'Because' : 'In a few words'}
          value={reason}
          error={wrong}
          onChange={(event) => setReason(event.target.value)}
        />
      </div>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Move it on
        </button>
      </div>
    </form>
  )
}
