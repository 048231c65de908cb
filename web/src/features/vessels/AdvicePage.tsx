import { useState } from 'react'
import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import { FollowThroughBodyFragmentDoc, FollowThroughDocument, VesselAdviceDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { windowWords } from '../../model/windows'
import { Grade, Sure } from '../../ui/Grade'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Table } from '../../ui/Table'
import { FollowSheet } from '../followthrough/FollowSheet'
import { Letters } from '../followthrough/Letters'
import { ClientWord } from './ClientWord'
import { EditAdvice } from './EditAdvice'
import { Recommend } from './Recommend'
import { VesselRunning } from './VesselRunning'
import s from './vessels.module.css'

const order = ['stop', 'afloat', 'ashore', 'planned', 'further', 'watch', 'record']

/** Everything ever recommended of this hull, most urgent first; each keeps its identity over the years. */
export default function AdvicePage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: VesselAdviceDocument, variables: { id } })
  const [{ data: told }] = useQuery({ query: FollowThroughDocument, variables: { vessel: id } })
  const follow = told?.followThrough ? read(FollowThroughBodyFragmentDoc, told.followThrough) : null
  const [choice, choose] = useState<string | null>(null)
  const [change, edit] = useState<string | null>(null)
  const of = (id: string | null) => data?.vessel?.recommendations.find((each) => each.id === id)
  const chosen = of(choice)
  const changing = of(change)
  if (data && !data.vessel) return <NotFound />
  return (
    <>
      {data?.vessel && <VesselRunning vessel={data.vessel} leaf="recommendations" />}
      <main id="main" className="page-body">
        <Answer data={data?.vessel} error={error} again={again}>
          {(vessel) => (
            <>
              {vessel.recommendations.length === 0 ? (
                <Empty title="Nothing recommended yet">
                  <p>
                    Recommendations are written in a job’s draft report; here they are followed until each is seen done.
                  </p>
                </Empty>
              ) : (
                <Table
                  caption="Recommendations"
                  className={`folds ${s.advice}`}
                  columns={[
                    { head: 'how urgent', cell: (r) => <Grade grade={r.grade} /> },
                    {
                      head: 'what to do',
                      names: true,
                      cell: (r) => (
                        <>
                          {r.what}
                          {(r.reason || r.consequence) && (
                            <span className="small note" style={{ display: 'block', fontWeight: 400 }}>
                              {r.reason} {r.consequence && `If it is left: ${r.consequence}`}
                            </span>
                          )}
                        </>
                      ),
                    },
                    { head: 'how sure', nowrap: true, cell: (r) => <Sure word={r.sure} /> },
                    { head: 'who', cell: (r) => r.whoActs },
                    { head: 'by', cell: (r) => (r.byOn ? shortDay(r.byOn) : r.byAsWritten) },
                    { head: 'closed by', cell: (r) => r.closedBy },
                    {
                      head: 'stands',
                      cell: (r) => {
                        const last = r.states.at(-1)
                        return (
                          <>
                            <button type="button" className="quiet" onClick={() => choose(r.id)}>
                              {last ? `${r.state}, ${last.by}, ${shortDay(last.at)}` : r.state}
                            </button>
                            {r.state === 'draft' && (
                              <Allowed to="recommend">
                                {' '}
                                <button type="button" className="quiet" onClick={() => edit(r.id)}>
                                  Change<span className="sr">: {r.what}</span>
                                </button>
                              </Allowed>
                            )}
                          </>
                        )
                      },
                    },
                  ]}
                  rows={[...vessel.recommendations].sort((a, b) => order.indexOf(a.grade) - order.indexOf(b.grade))}
                  id={(r) => r.id}
                />
              )}
              <div style={{ marginTop: 12 }}>
                <Allowed to="recommend">
                  <Recommend vessel={id} jobs={vessel.jobs} />
                </Allowed>
              </div>
              {follow && <Letters letters={follow.letters} jobs={vessel.jobs} />}
              {chosen && follow && (
                <FollowSheet key={chosen.id} advice={chosen} vessel={id} follow={follow} onClose={() => choose(null)} />
              )}
              {changing && <EditAdvice key={changing.version} advice={changing} onClose={() => edit(null)} />}
              <ClientWord vessel={id} what={(of) => vessel.recommendations.find((r) => r.id === of)?.what} />
              {vessel.reinspections.length > 0 && (
                <>
                  <h2>To be seen again</h2>
                  <ol className={s.events}>
                    {vessel.reinspections.map((due) => (
                      <li key={due.id}>
                        <span className="note">{windowWords(due)}</span>
                        <span>
                          {due.reason}{' '}
                          <span className="note">
                            · {due.state}
                            {due.stateReason && `: ${due.stateReason}`} · {due.tag}
                          </span>
                        </span>
                      </li>
                    ))}
                  </ol>
                </>
              )}
            </>
          )}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}
