import { type ReactNode, useState } from 'react'
import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import { FollowThroughBodyFragmentDoc, FollowThroughDocument, VesselAdviceDocument } from '../../graphql/gen/graphql'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { FollowSheet } from '../followthrough/FollowSheet'
import { Letters } from '../followthrough/Letters'
import { type Advice, AdviceTable } from './AdviceTable'
import { ClientWord } from './ClientWord'
import { EditAdvice } from './EditAdvice'
import { Recommend } from './Recommend'
import { SeenAgain } from './SeenAgain'
import { VesselRunning } from './VesselRunning'

const urgency = ['stop', 'afloat', 'ashore', 'planned', 'further', 'watch', 'record']
const over = new Set(['seen done', 'closed', 'declined'])

/** Everything ever recommended of this hull: what is open by urgency, then what is not; each keeps its identity over the years. */
export default function AdvicePage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: VesselAdviceDocument, variables: { id } })
  const [{ data: told, error: untold }, look] = useQuery({ query: FollowThroughDocument, variables: { vessel: id } })
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
              <Recommendations all={vessel.recommendations} follow={choose} edit={edit}>
                <Allowed to="recommend">
                  <Recommend vessel={id} jobs={vessel.jobs} />
                </Allowed>
              </Recommendations>
              {untold && <Failed error={untold} again={look} />}
              {follow && <Letters letters={follow.letters} jobs={vessel.jobs} />}
              {chosen && follow && (
                <FollowSheet key={chosen.id} advice={chosen} vessel={id} follow={follow} onClose={() => choose(null)} />
              )}
              {changing && <EditAdvice key={changing.version} advice={changing} onClose={() => edit(null)} />}
              <ClientWord vessel={id} what={(of) => vessel.recommendations.find((r) => r.id === of)?.what} />
              <SeenAgain due={vessel.reinspections} />
            </>
          )}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

function Recommendations({
  all,
  follow,
  edit,
  children,
}: {
  all: readonly Advice[]
  follow: (id: string) => void
  edit: (id: string) => void
  /** What adds one. */
  children: ReactNode
}) {
  if (all.length === 0)
    return (
      <>
        <Empty title="Nothing recommended yet">
          <p>Recommendations are written in a job’s draft report; here they are followed until each is seen done.</p>
        </Empty>
        {children}
      </>
    )
  const open = all
    .filter(({ state }) => !over.has(state))
    .sort((a, b) => urgency.indexOf(a.grade) - urgency.indexOf(b.grade))
  const moved = ({ states }: Advice) => states.at(-1)?.at ?? ''
  const answered = all.filter(({ state }) => over.has(state)).sort((a, b) => moved(b).localeCompare(moved(a)))
  return (
    <>
      {open.length > 0 ? (
        <AdviceTable caption="Open" rows={open} follow={follow} edit={edit} />
      ) : (
        <p className="note">Nothing is open.</p>
      )}
      {children}
      {answered.length > 0 && (
        <AdviceTable caption="Seen done, closed or declined" rows={answered} follow={follow} edit={edit} />
      )}
    </>
  )
}
