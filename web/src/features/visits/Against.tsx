import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { read } from '../../graphql/gen'
import {
  type CheckLineFragment,
  CheckLineFragmentDoc,
  OverrideCheckDocument,
  VisitAgainstDocument,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { isHard, Stand } from '../moves/Stands'
import s from './visit.module.css'

/** What the diary holds against a planned visit, where each rule comes from, and why it was let pass. */
export function Against({ visit }: { visit: string }) {
  const [{ data, error }, again] = useQuery({ query: VisitAgainstDocument, variables: { visit } })
  const [passing, setPassing] = useState<CheckLineFragment | null>(null)
  const list = read(CheckLineFragmentDoc, data?.visitChecks ?? [])
  if (error) return <Failed error={error} again={() => again({ requestPolicy: 'network-only' })} />
  if (!data) return null
  return (
    <section>
      <h2>What stands against it</h2>
      {list.every(({ suggestion }) => suggestion) && (
        <p className="note ruled">Nothing in the diary: hours, distance, waiting time, tide and people agree.</p>
      )}
      {list.length > 0 && (
        <ul className={`plain-list ${s.against}`}>
          {list.map((check) => (
            <li key={check.code + check.text}>
              <ul className="plain-list">
                <Stand check={check} />
              </ul>
              <p className="small note">Rule: {check.tag}</p>
              {!check.suggestion && !isHard(check) && (
                <Allowed to="book">
                  <button type="button" className="quiet" onClick={() => setPassing(check)}>
                    {check.passed ? 'Give another reason' : 'Let it pass'}
                    <span className="sr">: {check.text}</span>
                  </button>
                </Allowed>
              )}
            </li>
          ))}
        </ul>
      )}
      {passing && (
        <Pass
          visit={visit}
          check={passing}
          onClose={() => setPassing(null)}
          onDone={() => again({ requestPolicy: 'network-only' })}
        />
      )}
    </section>
  )
}

function Pass({
  visit,
  check,
  onClose,
  onDone,
}: {
  visit: string
  check: CheckLineFragment
  onClose: () => void
  onDone: () => void
}) {
  const [reason, setReason] = useState(check.passed)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, override] = useMutation(OverrideCheckDocument)
  const { at, rest } = faults(error, 'reason')

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!reason.trim()) return
    const { data } = await override({
      input: { mutation: newId('mut'), visit, code: check.code, reason: reason.trim() },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title="Let it pass" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <p>
          {check.text} <span className="small note">Rule: {check.tag}</span>
        </p>
        <TextArea
          label="Why all the same"
          value={reason}
          onChange={(event) => setReason(event.target.value)}
          error={tried && !reason.trim() ? 'Say why: it stands beside the visit' : at('reason')}
          help="It stays to be seen with this reason and your name in the record, here, on the board and at the haul-out."
        />
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Let it pass
          </button>
        </div>
      </form>
    </Sheet>
  )
}
