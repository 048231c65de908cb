import { type FormEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { BookChoicesDocument, BookEngagementDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { MemberField } from '../people/MemberField'
import type { Enquiry } from './EnquiryPage'
import s from './engagements.module.css'

/** The job is made: who leads it, and when its report is due. */
export function Book({ e }: { e: Enquiry }) {
  const navigate = useNavigate()
  const viewer = useViewer()
  const [{ data }] = useQuery({ query: BookChoicesDocument })
  const [lead, setLead] = useState<string | null>(null)
  const [due, setDue] = useState<string | null>(null)
  const [ids] = useState(() => ({ mutation: newId('mut'), job: newId('job') }))
  const [{ fetching, error }, book] = useMutation(BookEngagementDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await book({
      input: {
        ...ids,
        engagement: e.id,
        version: e.version,
        lead: lead ?? viewer?.member.id ?? null,
        dueOn: due,
      },
    })
    if (data) navigate(`/jobs/${data.bookEngagement.job.id}`)
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <div className="fields">
        <MemberField label="Who leads it" members={data?.members.edges} value={lead} onChange={setLead} />
        <DateField label="Report due on" value={due} onChange={setDue} />
      </div>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Book it
        </button>
      </div>
    </form>
  )
}
