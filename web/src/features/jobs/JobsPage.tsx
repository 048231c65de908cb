import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { Silhouette } from '../../figure/Silhouette'
import { JobsPageDocument, type JobsPageQuery } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { oneOf, optional } from '../../model/search'
import { Choice } from '../../ui/Choice'
import { Invented } from '../../ui/Invented'
import { NextFifty } from '../../ui/NextFifty'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { jobTabs } from '../engagements/words'
import s from './jobs.module.css'

const views = ['open', 'mine', 'issued', 'all'] as const
const choices = { which: oneOf(views, 'open'), after: optional() }

/** What each view holds, in the order in which it holds it. */
const holds: Record<(typeof views)[number], string> = {
  open: 'the report is still to come; what has to be done first stands first',
  mine: 'yours, the report still to come; what has to be done first stands first',
  issued: 'the report is out and the job not closed; where an addendum is owed first',
  all: 'those open first, then those issued, then those that are over',
}

const none: Record<(typeof views)[number], string> = {
  open: 'No job is open',
  mine: 'None of them is yours',
  issued: 'No issued job waits to be closed',
  all: 'No job here',
}

type Edge = JobsPageQuery['jobs']['edges'][number]

/** Every job, with what has to be done next for it, by when, and whom that waits for. */
export default function JobsPage() {
  const [{ which, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const diary = useMay('readDiary')
  const [{ data, error }, again] = useQuery({
    query: JobsPageDocument,
    variables: {
      after,
      open: which === 'open' || which === 'mine',
      issued: which === 'issued',
      mine: which === 'mine',
    },
  })
  return (
    <>
      <Running title="Jobs" {...(diary ? { tabs: jobTabs, tabsLabel: 'Jobs and enquiries' } : {})}>
        {holds[which]}
      </Running>
      <main id="main" className="page-body">
        <div className={s.ways}>
          <Choice
            label="Which jobs"
            value={which}
            onChange={(next) => choose({ which: next, after: null })}
            options={[
              { value: 'open', name: 'Open' },
              { value: 'mine', name: 'Mine' },
              { value: 'issued', name: 'Issued' },
              { value: 'all', name: 'All' },
            ]}
          />
          <Allowed to="book">
            <Link className="plain" to="/engagements/new">
              New enquiry
            </Link>
          </Allowed>
        </div>
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) =>
            data.jobs.edges.length === 0 ? (
              <Empty
                title={none[which]}
                ways={
                  <Allowed to="book">
                    <Link className="act" to="/engagements/new">
                      Write down an enquiry
                    </Link>
                  </Allowed>
                }
              >
                <p>A job begins with an enquiry: once it is booked, it stands here.</p>
              </Empty>
            ) : (
              <Table
                caption="Jobs"
                hideCaption
                className={`folds ${s.jobs}`}
                columns={[
                  {
                    head: '',
                    cell: ({ node }) => (node.vessel.figure ? <Silhouette spec={node.vessel.figure} /> : null),
                  },
                  {
                    head: 'vessel',
                    names: true,
                    cell: ({ node }) => (
                      <>
                        <Link className={s.name} to={`/jobs/${node.id}`}>
                          {node.vessel.name}
                        </Link>
                        <span className="small note">
                          {node.number}, {node.kind}
                        </span>
                      </>
                    ),
                  },
                  { head: 'next', cell: (edge) => <Next edge={edge} /> },
                  { head: 'by', nowrap: true, cell: ({ next }) => <By next={next} /> },
                  { head: 'waits for', cell: ({ next }) => <WaitsFor next={next} /> },
                  { head: 'lead', nowrap: true, cell: ({ node }) => node.lead?.name },
                  { head: 'client', cell: ({ node }) => node.client?.name },
                  { head: 'stage', nowrap: true, cell: ({ node }) => node.stage },
                  {
                    head: 'report due',
                    nowrap: true,
                    cell: ({ node }) => (node.dueOn ? shortDay(node.dueOn) : <span className="note">no day</span>),
                  },
                ]}
                rows={data.jobs.edges}
                id={({ node }) => node.id}
              />
            )
          }
        </Answer>
        <NextFifty page={data?.jobs.pageInfo} onNext={(after) => choose({ after }, { push: true })} />
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

/** The act that is owed first; below it what somebody wrote down by hand. */
function Next({ edge: { next, node } }: { edge: Edge }) {
  return (
    <>
      {next ? next.what : <span className="note">nothing</span>}
      {node.standsBetween && <span className="small note">{node.standsBetween}</span>}
    </>
  )
}

function By({ next }: { next: Edge['next'] }) {
  if (!next?.on) return next && <span className="note">no day</span>
  return (
    <>
      <b>{shortDay(next.on)}</b>
      {next.late && <span className={s.late}>past</span>}
    </>
  )
}

function WaitsFor({ next }: { next: Edge['next'] }) {
  return (
    next && (
      <>
        {next.waitsFor}
        {next.since && <span className="small note">since {shortDay(next.since)}</span>}
      </>
    )
  )
}
