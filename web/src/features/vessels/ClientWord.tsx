import { useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { ClientWordDocument, type ClientWordQuery } from '../../graphql/gen/graphql'
import { longDay, shortDay } from '../../model/dates'
import { capital } from '../../model/words'
import { Table } from '../../ui/Table'
import s from './vessels.module.css'

type Answer = ClientWordQuery['clientWord']['answers'][number]

const answered: Record<Answer['answer'], string> = {
  agreed: 'agrees',
  declined: 'declines',
  claimedDone: 'says it is done',
}

/** What clients answered, wrote and allowed: their own word, beside the states that the practice sets. */
export function ClientWord({ vessel, what }: { vessel: string; what: (recommendation: string) => string | undefined }) {
  // Addresses of photos hold for minutes, so this is asked each time.
  const [{ data, error }, again] = useQuery({
    query: ClientWordDocument,
    variables: { vessel },
    requestPolicy: 'cache-and-network',
  })
  if (error) return <Failed error={error} again={again} />
  if (!data) return null
  const { answers, messages, permits } = data.clientWord
  if (answers.length + messages.length + permits.length === 0) return null
  return (
    <>
      <h2>What clients said</h2>
      {answers.length > 0 && (
        <Table
          caption="Clients’ answers"
          className={`folds ${s.advice}`}
          columns={[
            { head: 'who', names: true, cell: (a) => a.by },
            { head: 'says', nowrap: true, cell: (a) => answered[a.answer] },
            { head: 'to', cell: (a) => what(a.recommendation) ?? 'a recommendation' },
            { head: 'in the client’s words', cell: (a) => a.reason },
            { head: 'photo or invoice', cell: (a) => <Came answer={a} /> },
            { head: 'on', nowrap: true, cell: (a) => `${shortDay(a.at)}, report ${a.reportNumber}` },
          ]}
          rows={answers}
          id={(a) => a.id}
        />
      )}
      <p className="small note">
        A claim is the client’s word. It is seen done when somebody of the practice has seen it.
      </p>
      {messages.length > 0 && (
        <ol className={s.events}>
          {messages.map((message) => (
            <li key={message.id}>
              <span className="note">{longDay(message.at)}</span>
              <span>
                {message.text}{' '}
                <span className="note">
                  · {message.by}, report {message.reportNumber}
                </span>
              </span>
            </li>
          ))}
        </ol>
      )}
      {permits.length > 0 && (
        <ol className={s.events}>
          {permits.map((permit) => (
            <li key={permit.id}>
              <span className="note">{longDay(permit.withdrawnAt ?? permit.givenAt)}</span>
              <span>
                {permit.by} {permit.withdrawnAt ? 'took back the leave' : 'gives leave'} to share report{' '}
                {permit.reportNumber} with <b>{permit.name}</b>, {permit.email}
                {permit.purpose && `, ${permit.purpose}`}
              </span>
            </li>
          ))}
        </ol>
      )}
    </>
  )
}

/** What a client answered to one recommendation, among what shows how far it has got. */
export function ClientSaid({
  vessel,
  recommendation,
  className,
}: {
  vessel: string
  recommendation: string
  className: string | undefined
}) {
  const [{ data }] = useQuery({ query: ClientWordDocument, variables: { vessel }, requestPolicy: 'cache-and-network' })
  const answers = data?.clientWord.answers.filter((answer) => answer.recommendation === recommendation) ?? []
  if (answers.length === 0) return null
  return (
    <section>
      <h3>The client’s own word</h3>
      <ol className={className}>
        {answers.map((answer) => (
          <li key={answer.id}>
            <span className="note">{shortDay(answer.at)}</span>
            <span>
              <b>{capital(answered[answer.answer])}</b>, {answer.by}
              {answer.reason && <span className="note"> · {answer.reason}</span>} <Came answer={answer} />
            </span>
          </li>
        ))}
      </ol>
      <p className="small note">It moves no state. An invoice tells what was charged, not what was done.</p>
    </section>
  )
}

/** What came with an answer: a photo's copy in a page of its own, an invoice as a file. */
function Came({ answer }: { answer: Answer }) {
  if (!answer.photoState) return null
  if (answer.photoState === 'refused') return answer.photoRefusedBecause || 'could not be read'
  if (!answer.photoView) return 'on its way'
  if (answer.sent === 'invoice') return <a href={answer.photoView}>{answer.fileName || 'the invoice'}</a>
  return (
    <a href={answer.photoView} target="_blank" rel="noreferrer">
      <img
        src={answer.photoThumb}
        alt={`Sent by ${answer.by}`}
        style={{ display: 'block', maxHeight: 64, marginTop: 4 }}
      />
    </a>
  )
}
