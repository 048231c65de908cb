import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { ReportsPageDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { optional } from '../../model/search'
import { Invented } from '../../ui/Invented'
import { NextFifty } from '../../ui/NextFifty'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'

const choices = { after: optional() }

/** Every report of the practice, newest first. */
export default function ReportsPage() {
  const [{ after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: ReportsPageDocument, variables: { after } })
  return (
    <>
      <Running title="Reports">issued once, numbered, and never changed; corrections are addenda</Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={8}>
          {(data) =>
            data.reports.edges.length === 0 ? (
              <Empty
                title="No report yet"
                ways={
                  <Link className="act" to="/jobs">
                    Open the jobs
                  </Link>
                }
              >
                <p>A report is drafted from its job. Here stand all of them, with their numbers.</p>
              </Empty>
            ) : (
              <Table
                caption="Reports, newest first"
                hideCaption
                columns={[
                  {
                    head: 'report',
                    names: true,
                    nowrap: true,
                    cell: (r) => <Link to={`/reports/${r.id}`}>{r.number ?? 'draft'}</Link>,
                  },
                  { head: 'vessel', cell: (r) => <Link to={`/vessels/${r.vessel.id}/reports`}>{r.vessel.name}</Link> },
                  { head: 'title', cell: (r) => r.title },
                  { head: 'job', nowrap: true, cell: (r) => r.jobNumber },
                  { head: 'issued', nowrap: true, cell: (r) => (r.issuedAt ? shortDay(r.issuedAt) : '') },
                  { head: 'stands', cell: (r) => r.state },
                ]}
                rows={data.reports.edges.map(({ node }) => node)}
                id={(r) => r.id}
              />
            )
          }
        </Answer>
        <NextFifty page={data?.reports.pageInfo} onNext={(after) => choose({ after }, { push: true })} />
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}
