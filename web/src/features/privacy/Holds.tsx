import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { FileHoldsDocument, type FileHoldsQuery, LiftHoldDocument, PlaceHoldDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { TextArea } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './privacy.module.css'

type Hold = FileHoldsQuery['holds'][number]

/** What a hold is on: one of the three. */
export type HeldThing = { party: string } | { job: string } | { vessel: string }

const where = { person: 'on the person', job: 'on job', vessel: 'on the vessel' } as const

/** Whether a file is held, by whom and since when; and the way to hold it or to lift the hold. */
export function Holds({ of }: { of: HeldThing }) {
  const diary = useMay('readDiary')
  const [{ data, error }] = useQuery({ query: FileHoldsDocument, variables: of, pause: !diary })
  const [placing, setPlacing] = useState(false)
  const [lifting, setLifting] = useState<Hold | null>(null)
  if (!diary) return null
  const standing = data?.holds.filter(({ liftedAt }) => !liftedAt) ?? []
  const lifted = data?.holds.filter(({ liftedAt }) => liftedAt) ?? []
  return (
    <section id="holds">
      <h2>Hold</h2>
      {error && <Failed error={error} />}
      {data && standing.length === 0 && (
        <p className="small note ruled">
          Not held. What is disputed, or may be, is held: nothing of it is erased then.
        </p>
      )}
      {standing.length > 0 && (
        <>
          <Notice>Held: nothing of this file is erased while a hold stands.</Notice>
          <ul className={s.list}>
            {standing.map((hold) => (
              <li key={hold.id}>
                <span>{hold.reason}</span>
                <span className="small note">
                  {where[hold.on]} {hold.what}, since {shortDay(hold.placedAt)}
                  {hold.placedBy && `, by ${hold.placedBy}`}
                </span>
                <Allowed to="liftHolds">
                  <span>
                    <button type="button" className="plain" onClick={() => setLifting(hold)}>
                      Lift the hold
                    </button>
                  </span>
                </Allowed>
              </li>
            ))}
          </ul>
        </>
      )}
      {lifted.length > 0 && (
        <details>
          <summary className="small">Lifted before</summary>
          <ul className={s.list}>
            {lifted.map((hold) => (
              <li key={hold.id} className="small">
                <span>{hold.reason}</span>
                <span className="note">
                  {shortDay(hold.placedAt)} to {shortDay(hold.liftedAt ?? '')}
                  {hold.liftedBy && `, lifted by ${hold.liftedBy}`}: {hold.liftedReason}
                </span>
              </li>
            ))}
          </ul>
        </details>
      )}
      <Allowed to="holdFiles">
        <div className={s.ways}>
          <button type="button" className="plain" onClick={() => setPlacing(true)}>
            Hold this file
          </button>
        </div>
      </Allowed>
      <Sheet title="Hold this file" open={placing} onClose={() => setPlacing(false)}>
        {placing && <Place of={of} onDone={() => setPlacing(false)} />}
      </Sheet>
      <Sheet title="Lift the hold" open={lifting !== null} onClose={() => setLifting(null)}>
        {lifting && <Lift hold={lifting} onDone={() => setLifting(null)} />}
      </Sheet>
    </section>
  )
}

function Place({ of, onDone }: { of: HeldThing; onDone: () => void }) {
  const [reason, setReason] = useState('')
  const [{ fetching, error }, place] = useMutation(PlaceHoldDocument)
  const fault = error?.graphQLErrors[0]
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await place({ input: { mutation: newId('mut'), id: newId('hld'), ...of, reason } })
    if (data) onDone()
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !fault?.extensions?.field && <Failed error={error} />}
      <p className="measure note">
        From now on nothing that belongs to it is erased, whoever asks and whatever its age. Work goes on as before. A
        principal lifts it.
      </p>
      <TextArea
        label="Why"
        value={reason}
        error={fault?.extensions?.field === 'reason' ? fault.message : undefined}
        onChange={(event) => setReason(event.target.value)}
        help="A claim, a complaint, a court: what is known of it, and since when."
      />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Hold it
        </button>
      </div>
    </form>
  )
}

function Lift({ hold, onDone }: { hold: Hold; onDone: () => void }) {
  const [reason, setReason] = useState('')
  const [{ fetching, error }, lift] = useMutation(LiftHoldDocument)
  const fault = error?.graphQLErrors[0]
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await lift({ input: { mutation: newId('mut'), id: hold.id, reason } })
    if (data) onDone()
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !fault?.extensions?.field && <Failed error={error} />}
      <p className="measure">
        {hold.reason} <span className="note">(held since {shortDay(hold.placedAt)})</span>
      </p>
      <TextArea
        label="Why it is lifted"
        value={reason}
        error={fault?.extensions?.field === 'reason' ? fault.message : undefined}
        onChange={(event) => setReason(event.target.value)}
        help="Settled, withdrawn, out of time: whoever knows says so. Ask counsel where in doubt."
      />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Lift it
        </button>
      </div>
    </form>
  )
}
