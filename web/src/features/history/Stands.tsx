import { type FormEvent, type ReactNode, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { LowerStandingDocument, RestoreStandingDocument } from '../../graphql/gen/graphql'
import { visitDay } from '../../model/dates'
import type { Spot } from '../../model/history'
import { newId } from '../../model/id'
import { standingWord } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Comparable } from './Comparable'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'

/** How the pass set beside stands to the one held, and every reason for it; a surveyor may lower it, never raise it. */
export function Stands({
  now,
  then,
  spots,
  onHold,
  children,
}: {
  now: Pass
  then: Pass
  spots: readonly Spot[]
  onHold: () => void
  children: ReactNode
}) {
  const reasons = then.standingReasons.map(({ text }) => text)
  return (
    <div className={`small ${s.stands}`}>
      <p>
        {visitDay(then.on, then)} stands <b>{standingWord[then.standing]}</b> to {visitDay(now.on, now)}
        {reasons.length > 0 && `: ${reasons.join('; ')}`}.
      </p>
      {[now, then].map(
        (pass) =>
          pass.dryChangeReason && (
            <p key={pass.id}>
              Dry places of {visitDay(pass.on, pass)} differ from the plan before (version {pass.planVersion}):{' '}
              {pass.dryChangeReason}
            </p>
          ),
      )}
      {children}
      <p className={s.ways}>
        <Comparable now={now} then={then} spots={spots} />
        <button type="button" className="quiet" onClick={onHold}>
          hold the others against this one
        </button>
        <Allowed to="writeVisit">
          <Lower pass={then} />
        </Allowed>
      </p>
    </div>
  )
}

type Lowest = 'unlike' | 'quoted'

function Lower({ pass }: { pass: Pass }) {
  const [open, setOpen] = useState(false)
  const [restored, restore] = useMutation(RestoreStandingDocument)
  if (pass.lowered)
    return (
      <>
        <button
          type="button"
          className="quiet"
          disabled={restored.fetching}
          onClick={() => restore({ input: { mutation: newId('mut'), pass: pass.id } })}
        >
          take back what {pass.lowered.by} lowered
        </button>
        {restored.error && <Failed error={restored.error} />}
      </>
    )
  if (pass.standing === 'quoted') return null
  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        lower its standing
      </button>
      <Sheet title={`Lower the standing of ${visitDay(pass.on, pass)}`} open={open} onClose={() => setOpen(false)}>
        <LowerForm pass={pass} onDone={() => setOpen(false)} />
      </Sheet>
    </>
  )
}

function LowerForm({ pass, onDone }: { pass: Pass; onDone: () => void }) {
  const [standing, setStanding] = useState<Lowest>(pass.standing === 'unlike' ? 'quoted' : 'unlike')
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const [lowered, lower] = useMutation(LowerStandingDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!reason.trim()) return
    const { data } = await lower({
      input: { mutation: newId('mut'), id: newId('std'), pass: pass.id, standing, reason: reason.trim() },
    })
    if (data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {lowered.error && <Failed error={lowered.error} />}
      <p>
        The figures of this pass are then shown beside others and not subtracted. It can be taken back; it can never be
        raised above what its context gives.
      </p>
      <ChoiceField
        label="To"
        value={standing}
        onChange={setStanding}
        options={[
          { value: 'unlike', name: 'unlike', disabled: pass.standing === 'unlike' },
          { value: 'quoted', name: 'quoted' },
        ]}
      />
      <TextField
        label="Why"
        value={reason}
        onChange={(event) => setReason(event.target.value)}
        error={tried && !reason.trim() ? 'Say why: the reason stands with your name beside the pass' : undefined}
      />
      <div>
        <button type="submit" className="act" disabled={lowered.fetching}>
          Lower it
        </button>
      </div>
    </form>
  )
}
