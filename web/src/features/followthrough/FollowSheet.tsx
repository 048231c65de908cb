import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import {
  AddEvidenceDocument,
  EvidenceChoicesDocument,
  type FollowThroughBodyFragment,
  SetRecommendationStateDocument,
  type VesselAdviceQuery,
} from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { needsReason, nextStates } from '../../model/follow'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Grade } from '../../ui/Grade'
import { Sheet } from '../../ui/Sheet'
import { Danger } from './Danger'
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
        {evidence.length > 0 && (
          <section>
            <h3>What shows it</h3>
            <ol className={s.steps}>
              {evidence.map((one) => (
                <li key={one.id}>
                  <span className="note">{shortDay(one.seenAt ?? one.toldOn ?? one.at)}</span>
                  <span>
                    <b>{capital(one.kind)}</b>, {one.by}
                    {one.text && <span className="note"> · {one.text}</span>}
                  </span>
                </li>
              ))}
            </ol>
          </section>
        )}
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
  const next = nextStates(advice.state)
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
          help={chosen === 'seen done' ? 'For whoever was there and saw it, and nobody else.' : undefined}
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

const kinds = ['photo', 'invoice', 'reinspection', 'word'] as const

/** A photo, an invoice, a reinspection or somebody's word. It sets no state by itself. */
function Show({ advice, vessel }: { advice: Advice; vessel: string }) {
  const roles = useViewer()?.roles ?? []
  const [kind, setKind] = useState<(typeof kinds)[number]>('photo')
  const [of, setOf] = useState('')
  const [text, setText] = useState('')
  const [on, setOn] = useState<string | null>(null)
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ data }] = useQuery({ query: EvidenceChoicesDocument, variables: { vessel, job: advice.job } })
  const [{ fetching, error }, add] = useMutation(AddEvidenceDocument)
  if (roles.length > 0 && roles.every((role) => role === 'guest')) return null

  async function send(event: FormEvent) {
    event.preventDefault()
    const picks = kind === 'photo' || kind === 'reinspection'
    const fault = picks
      ? of
        ? undefined
        : 'Choose one.'
      : text.trim()
        ? undefined
        : 'Say whose it is and what it says.'
    setWrong(fault)
    if (fault) return
    const { data: kept } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('evd'),
        recommendation: advice.id,
        kind,
        photo: kind === 'photo' ? of : null,
        visit: kind === 'reinspection' ? of : null,
        text: text.trim(),
        toldOn: picks ? null : on,
      },
    })
    if (!kept) return
    setText('')
    setOf('')
  }

  const choices =
    kind === 'photo'
      ? (data?.vessel?.photos ?? []).map(({ id, caption, takenAt }) => ({
          id,
          name: [caption || 'no caption', takenAt && shortDay(takenAt)].filter(Boolean).join(', '),
        }))
      : (data?.job?.visits ?? [])
          .filter((visit) => visit.state === 'done')
          .map((visit) => ({ id: visit.id, name: `${visit.kind}, ${shortDay(dayIn(visit.from, visit.timeZone))}` }))
  return (
    <form className={s.form} noValidate onSubmit={send}>
      <h3>Add what shows it</h3>
      {error && <Failed error={error} />}
      <ChoiceField
        label="What it is"
        value={kind}
        onChange={(next) => {
          setKind(next)
          setOf('')
        }}
        options={kinds.map((value) => ({ value, name: capital(value) }))}
      />
      <div className={s.pair}>
        {kind === 'photo' || kind === 'reinspection' ? (
          <SelectField
            label={kind === 'photo' ? 'Photo' : 'Visit at which it was seen'}
            value={of}
            error={wrong}
            onChange={(event) => setOf(event.target.value)}
          >
            <option value="">choose</option>
            {choices.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </SelectField>
        ) : (
          <DateField label="Of" value={on} onChange={setOn} />
        )}
        <TextField
          label="Whose, and what it says"
          value={text}
          error={kind === 'photo' || kind === 'reinspection' ? undefined : wrong}
          onChange={(event) => setText(event.target.value)}
        />
      </div>
      <div>
        <button type="submit" className="plain" disabled={fetching}>
          Add it
        </button>
      </div>
    </form>
  )
}
