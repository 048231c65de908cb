import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { WithdrawCauseCheckDocument } from '../../graphql/gen/graphql'
import { placesSaid } from '../../model/causes'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import type { Ledger } from './CausesPage'
import s from './causes.module.css'

type Check = Ledger['made'][number]

/** Every check that was made, with a name and a day; one that was taken back stays and counts no more. */
export function Made({ id, ledger }: { id: string; ledger: Ledger }) {
  return (
    <section className={s.matter} aria-labelledby={id}>
      <h2 id={id}>Checks made</h2>
      {ledger.made.length === 0 ? (
        <p className="note">
          None recorded by hand yet. Block checks, repeats and conditions of the pass count by themselves.
        </p>
      ) : (
        <Table
          caption="Checks made"
          hideCaption
          className="folds"
          columns={[
            {
              head: 'what came of it',
              names: true,
              cell: (check: Check) => (
                <span className={check.withdrawnAt ? s.gone : undefined}>
                  {check.text}
                  {check.note && <span className={s.detail}>{check.note}</span>}
                </span>
              ),
            },
            { head: 'where', cell: ({ places }) => placesSaid(places, ledger.axis) || 'the hull at large' },
            { head: 'by', cell: ({ by }) => by },
            { head: 'on', nowrap: true, cell: ({ at }) => shortDay(at) },
            {
              head: '',
              cell: (check) =>
                check.withdrawnAt ? (
                  <span className="note">
                    withdrawn {shortDay(check.withdrawnAt)}: {check.withdrawnReason}
                  </span>
                ) : (
                  <Allowed to="writeVisit">
                    <Withdraw check={check} />
                  </Allowed>
                ),
            },
          ]}
          rows={ledger.made}
          id={(check) => check.id}
        />
      )}
    </section>
  )
}

function Withdraw({ check }: { check: Check }) {
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, withdraw] = useMutation(WithdrawCauseCheckDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!reason.trim()) return
    const { data } = await withdraw({ input: { mutation: newId('mut'), id: check.id, reason: reason.trim() } })
    if (data) setOpen(false)
  }

  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        Take back<span className="sr">: {check.text}</span>
      </button>
      <Sheet title="Take a check back" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <p>{check.text}</p>
          <TextField
            label="Because"
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            help="The check stays on record with this reason, and counts no more."
            error={tried && !reason.trim() ? 'Give the reason' : undefined}
          />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Take it back
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
