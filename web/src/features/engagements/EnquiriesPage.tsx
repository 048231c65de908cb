import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import { EnquiriesPageDocument, type EnquiryLineFragment, EnquiryLineFragmentDoc } from '../../graphql/gen/graphql'
import { dayMonth, shortDay } from '../../model/dates'
import { money } from '../../model/money'
import { oneOf, optional } from '../../model/search'
import { Choice } from '../../ui/Choice'
import { Invented } from '../../ui/Invented'
import { NextFifty } from '../../ui/NextFifty'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import s from './engagements.module.css'
import { boatOf, jobTabs, stageOf, stages } from './words'

const choices = { which: oneOf(['open', 'all'], 'open'), after: optional() }

/** What people ask for, by how far it has come: from the first call to the job. */
export default function EnquiriesPage() {
  const [{ which, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({
    query: EnquiriesPageDocument,
    variables: { after, open: which === 'open' },
  })
  const lines = (data?.engagements.edges ?? []).map(({ node }) => read(EnquiryLineFragmentDoc, node))
  return (
    <>
      <Running title="Enquiries" tabsLabel="Jobs and enquiries" tabs={jobTabs}>
        from the first call to the job
      </Running>
      <main id="main" className="page-body">
        <div className={s.ways}>
          <Allowed to="book">
            <Link className="act" to="/engagements/new">
              New enquiry
            </Link>
          </Allowed>
          <Choice
            label="Which enquiries"
            value={which}
            onChange={(next) => choose({ which: next, after: null })}
            options={[
              { value: 'open', name: 'Open' },
              { value: 'all', name: 'All' },
            ]}
          />
        </div>
        <Answer data={data} error={error} again={again} lines={8}>
          {() =>
            lines.length === 0 ? (
              <Empty title="Nobody has asked">
                <p>
                  A call is written down while it lasts: who asks, for whom, why. The boat may be unknown for a while.
                </p>
              </Empty>
            ) : (
              stages.map(([stage, head, note]) => (
                <Stage key={stage} head={head} note={note} lines={lines.filter((line) => stageOf(line) === stage)} />
              ))
            )
          }
        </Answer>
        <NextFifty page={data?.engagements.pageInfo} onNext={(after) => choose({ after }, { push: true })} />
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

function Stage({ head, note, lines }: { head: string; note: string; lines: EnquiryLineFragment[] }) {
  if (lines.length === 0) return null
  return (
    <section>
      <h2>
        {head} <span className={s.count}>{lines.length}</span>
      </h2>
      <p className="small note">{note}</p>
      <Table
        caption={head}
        hideCaption
        columns={[
          {
            head: 'who',
            names: true,
            cell: (e) => (
              <>
                <Link className={s.name} to={`/engagements/${e.id}`}>
                  {e.client?.name ?? e.askedBy}
                </Link>
                {e.forWhom && <span className="small note">for {e.forWhom}</span>}
              </>
            ),
          },
          { head: 'boat', cell: (e) => boatOf(e) },
          { head: 'kind', cell: (e) => e.kind || <span className="note">not agreed</span> },
          {
            head: 'waits for',
            cell: (e) =>
              e.job ? (
                <Link to={`/jobs/${e.job}`}>Job {e.jobNumber}</Link>
              ) : e.missing[0] ? (
                <Link to={`/engagements/${e.id}`}>{e.missing[0].text}</Link>
              ) : e.stage === 'accepted' ? (
                <Link to={`/engagements/${e.id}`}>Nothing: it can be booked.</Link>
              ) : (
                ''
              ),
          },
          {
            head: 'offer',
            num: true,
            nowrap: true,
            cell: (e) => (e.netMinor ? money(e.netMinor + (e.taxMinor ?? 0), e.currency) : ''),
          },
          {
            head: 'asked',
            nowrap: true,
            cell: (e) => <span title={shortDay(e.askedOn)}>{dayMonth(e.askedOn)}</span>,
          },
        ]}
        rows={lines}
        id={(e) => e.id}
        className={`folds ${s.list}`}
      />
    </section>
  )
}
