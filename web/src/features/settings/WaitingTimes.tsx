import { useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { WaitingTimesDocument } from '../../graphql/gen/graphql'
import { capital } from '../../model/words'
import { Table } from '../../ui/Table'

/** How long a hull stands before the meter is worth taking out: what visits are proposed by, each with its tag. */
export function WaitingTimes() {
  const [{ data, error }] = useQuery({ query: WaitingTimesDocument })
  return (
    <section>
      <h2>Waiting before the meter</h2>
      {error && <Failed error={error} />}
      {data && (
        <Table
          caption="Waiting times"
          hideCaption
          columns={[
            { head: 'hull', names: true, cell: (w) => capital(w.hull) },
            { head: 'after the lift', cell: (w) => w.window },
            { head: 'why', cell: (w) => w.reason },
            { head: 'comes from', cell: (w) => <span className="small note">{w.tag}</span> },
          ]}
          rows={data.waitingTimes}
          id={(w) => w.code}
        />
      )}
      <p className="small note">
        The longest that applies counts. A hull that was read before is proposed after as many days ashore as last time.
        Figures of low confidence: let one pass with its reason where you know better.
      </p>
    </section>
  )
}
