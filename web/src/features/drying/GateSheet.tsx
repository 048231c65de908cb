import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { type DryingLogFragment, SignGateDocument } from '../../graphql/gen/graphql'
import { dayIn, longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './drying.module.css'
import { GateRule } from './GateRule'

type Gate = DryingLogFragment['gates'][number]

/** The sheet of coating gates: what each asks, what the records say, who signed it. Titled by what was met; it prints on one page. */
export function GateSheet({ log, zone, again }: { log: DryingLogFragment; zone: string; again: () => void }) {
  const [signing, setSigning] = useState<Gate | null>(null)
  const [ruling, setRuling] = useState<Gate | null>(null)
  return (
    <section className={s.sheet}>
      <div className={s.heading}>
        <h2>{log.title}</h2>
        <button type="button" className="quiet no-print" onClick={() => window.print()}>
          Print
        </button>
      </div>
      <p className="note small">
        {log.job.vessel.name}, job {log.job.number}. Whoever coats decides.
      </p>
      <ol className={s.gates}>
        {log.gates.map((gate) => (
          <li key={gate.code} className={s.gate}>
            <span
              className={s.box}
              data-met={gate.signature ? true : undefined}
              data-about={gate.about || undefined}
              role="img"
              aria-label={gate.about ? 'for information' : gate.signature ? 'met' : 'open'}
            />
            <div>
              <b>{gate.name}</b>
              <p className="small">
                {gate.asks} <span className="note">· {gate.tag}</span>
              </p>
              {!gate.about && (
                <Allowed to="managePractice">
                  <button type="button" className="quiet no-print" onClick={() => setRuling(gate)}>
                    {gate.ruleVersion > 0 ? 'Change our own figure' : 'Set our own figure'}
                    <span className="sr">: {gate.name}</span>
                  </button>
                </Allowed>
              )}
            </div>
            <div className="small">
              <p>
                <b>{gate.verdict}</b>
              </p>
              <p>{gate.evidence}</p>
            </div>
            <div className="small">
              {gate.signature ? (
                <>
                  <p>
                    <b>Met on {longDay(gate.signature.metOn)}</b>, signed by {gate.signature.by}
                  </p>
                  <p>{gate.signature.evidence}</p>
                  <p className="note">The record said then: {gate.signature.shown}</p>
                </>
              ) : (
                <p>{gate.about ? 'Not signed.' : gate.openBecause ? `Open: ${gate.openBecause}.` : 'Open.'}</p>
              )}
              {!gate.about && (
                <Allowed to="signGates">
                  <button type="button" className="quiet no-print" onClick={() => setSigning(gate)}>
                    {gate.signature ? 'Open it again' : 'Sign it'}
                    <span className="sr">: {gate.name}</span>
                  </button>
                </Allowed>
              )}
            </div>
          </li>
        ))}
      </ol>
      <div className={s.cautions}>
        {log.cautions.map((caution) => (
          <p key={caution}>{caution}</p>
        ))}
      </div>
      {ruling && <GateRule gate={ruling} onClose={() => setRuling(null)} onDone={again} />}
      {signing && <Sign job={log.job.id} gate={signing} zone={zone} onClose={() => setSigning(null)} />}
    </section>
  )
}

function Sign({ job, gate, zone, onClose }: { job: string; gate: Gate; zone: string; onClose: () => void }) {
  const again = gate.signature !== null && gate.signature !== undefined
  const [on, setOn] = useState<string | null>(() => dayIn(Date.now(), zone))
  const [evidence, setEvidence] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, sign] = useMutation(SignGateDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!evidence.trim() || !on) return
    const { data } = await sign({
      input: {
        mutation: newId('mut'),
        id: newId('gsg'),
        job,
        gate: gate.code,
        metOn: on,
        evidence: evidence.trim(),
        reopen: again,
      },
    })
    if (data) onClose()
  }
  return (
    <Sheet title={again ? 'Open it again' : 'Sign a gate'} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <p>
          <b>{gate.name}</b>: {gate.asks}
        </p>
        <p className="small">
          The record: {gate.verdict}. {gate.evidence} It is kept beside your name.
        </p>
        <DateField label={again ? 'Open since' : 'Met on'} value={on} onChange={setOn} />
        <TextArea
          label={again ? 'Why it is open again' : 'What it rests on'}
          value={evidence}
          onChange={(event) => setEvidence(event.target.value)}
          error={
            tried && !evidence.trim() ? 'Say what was measured, with what, and where it is written down' : undefined
          }
        />
        <div>
          <button type="submit" className="act" disabled={fetching}>
            {again ? 'Open it again' : 'Sign'}
          </button>
        </div>
      </form>
    </Sheet>
  )
}
