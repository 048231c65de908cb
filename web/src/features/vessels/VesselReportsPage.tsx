import { Link, useNavigate, useParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import { DraftReportDocument, ReportBodyFragmentDoc, VesselReportsDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Table } from '../../ui/Table'
import { VesselRunning } from './VesselRunning'

/** The reports of one hull; a new draft begins from one of her jobs. */
export default function VesselReportsPage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const navigate = useNavigate()
  const [{ data, error }, again] = useQuery({ query: VesselReportsDocument, variables: { id } })
  const writes = useMay('writeReport')
  const [{ fetching, error: refused }, draft] = useMutation(DraftReportDocument)
  if (data && !data.vessel) return <NotFound />
  async function begin(job: string) {
    const { data } = await draft({ input: { mutation: newId('mut'), id: newId('rep'), job } })
    if (data) navigate(`/reports/${read(ReportBodyFragmentDoc, data.draftReport.report).id}`)
  }
  return (
    <>
      {data?.vessel && <VesselRunning vessel={data.vessel} leaf="reports" />}
      <main id="main" className="page-body">
        <Answer data={data?.vessel} error={error} again={again}>
          {(vessel) => {
            const jobs = vessel.jobs.filter(({ stage }) => !['closed', 'cancelled'].includes(stage))
            const ways = (writes ? jobs : []).map((job) => (
              <button key={job.id} type="button" className="plain" disabled={fetching} onClick={() => begin(job.id)}>
                Draft for job {job.number}
                {job.client && `, ${job.client.name}`}
              </button>
            ))
            return vessel.reports.length === 0 ? (
              <Empty title="No report yet" ways={ways}>
                <p>
                  A report is drafted from a job, looked over by a second person, and issued once: nothing changes it
                  afterwards.
                </p>
              </Empty>
            ) : (
              <>
                <Table
                  caption="Reports"
                  columns={[
                    {
                      head: 'report',
                      names: true,
                      cell: (r) => <Link to={`/reports/${r.id}`}>{r.number ?? 'draft'}</Link>,
                    },
                    { head: 'title', cell: (r) => r.title },
                    { head: 'job', cell: (r) => <Link to={`/jobs/${r.job}`}>{r.jobNumber}</Link> },
                    { head: 'issued', nowrap: true, cell: (r) => (r.issuedAt ? shortDay(r.issuedAt) : '') },
                    { head: 'stands', cell: (r) => r.state },
                  ]}
                  rows={vessel.reports}
                  id={(r) => r.id}
                />
                <div className="buttons" style={{ marginTop: 16 }}>
                  {ways}
                </div>
              </>
            )
          }}
        </Answer>
        {refused && <Failed error={refused} />}
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}
