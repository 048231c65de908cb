import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { Silhouette } from '../../figure/Silhouette'
import { JobsPageDocument } from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { oneOf, optional } from '../../model/search'
import { capital } from '../../model/words'
import { Choice } from '../../ui/Choice'
import { Invented } from '../../ui/Invented'
import { NextFifty } from '../../ui/NextFifty'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { jobTabs } from '../engagements/words'
import s from './jobs.module.css'

const choices = { which: oneOf(['open', 'mine', 'all'], 'open'), after: optional() }

/** Every job, those due first, with what still stands between each boat and her report. */
export default function JobsPage() {
  const [{ which, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const diary = useMay('readDiary')
  const [{ data, error }, again] = useQuery({
    query: JobsPageDocument,
    variables: { after, open: which !== 'all', mine: which === 'mine' },
  })
  const zone = viewer?.practice.timeZone ?? 'UTC'
  return (
    <>
      <Running title="Jobs" {...(diary ? { tabs: jobTabs, tabsLabel: 'Jobs and enquiries' } : {})}>
        one vessel, one client; due first
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
                title={which === 'mine' ? 'None of them is yours' : 'No job here'}
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
                  { head: '', cell: (j) => (j.vessel.figure ? <Silhouette spec={j.vessel.figure} /> : null) },
                  {
                    head: 'vessel',
                    names: true,
                    cell: (j) => (
                      <>
                        <Link className={s.name} to={`/jobs/${j.id}`}>
                          {j.vessel.name}
                        </Link>
                        <span className="small note">
                          {j.number}, {j.kind}
                        </span>
                      </>
                    ),
                  },
                  { head: 'client', cell: (j) => j.client?.name },
                  { head: 'lead', nowrap: true, cell: (j) => j.lead?.name },
                  {
                    head: 'stands between her and the report',
                    short: 'waits for',
                    cell: (j) => capital(j.standsBetween) || <span className="note">nothing noted</span>,
                  },
                  {
                    head: 'next visit',
                    nowrap: true,
                    cell: (j) => (j.nextVisitAt ? shortDay(dayIn(j.nextVisitAt, zone)) : ''),
                  },
                  { head: 'stage', nowrap: true, cell: (j) => j.stage },
                  { head: 'due', nowrap: true, cell: (j) => (j.dueOn ? <b>{shortDay(j.dueOn)}</b> : 'not yet') },
                ]}
                rows={data.jobs.edges.map(({ node }) => node)}
                id={(j) => j.id}
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
