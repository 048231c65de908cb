import { useMemo } from 'react'
import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { read } from '../../graphql/gen'
import { ColumnsFragmentDoc, ResurveyDocument, type ResurveyQuery } from '../../graphql/gen/graphql'
import { spots } from '../../model/history'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { VesselRunning } from '../vessels/VesselRunning'
import { choices } from './choices'
import { ResurveyView } from './ResurveyView'
import { told } from './told'
import { whatLies } from './whatLies'

/** The screen the practice lives by: this hull, all her passes, and what may be said of them. */
export default function ResurveyPage() {
  const { id = '' } = useParams()
  const [choice] = useSearch(choices)
  const [{ data, error }, again] = useQuery({ query: ResurveyDocument, variables: { id, against: choice.against } })
  if (data && !data.vessel) return <NotFound />
  return (
    <>
      {data?.vessel && <VesselRunning vessel={data.vessel} leaf="resurvey" more={owner(data.vessel)} />}
      <main id="main">
        <Answer data={data} error={error} again={again} lines={12}>
          {(data) => <Loaded data={data} />}
        </Answer>
      </main>
    </>
  )
}

type Vessel = NonNullable<ResurveyQuery['vessel']>

const owner = ({ people }: Vessel) => {
  const now = people.find(({ role, to }) => role === 'owner' && !to)
  return now ? `${now.party.name}, owner` : ''
}

function Loaded({ data }: { data: ResurveyQuery }) {
  const vessel = data.vessel as Vessel
  const history = read(ColumnsFragmentDoc, vessel.history)
  const all = useMemo(() => spots(history.axis), [history.axis])
  const says = useMemo(() => told(history), [history])
  const hull = vessel.elements.find(({ figure }) => figure) ?? vessel.elements[0]
  const lies = useMemo(() => whatLies(hull?.layers ?? [], history.passes.at(-1)?.on), [hull, history.passes])
  if (!hull || history.passes.length === 0)
    return (
      <div className="page-body">
        <Empty title="Not read yet">
          <p>
            Here stand the readings of every pass over this hull, on one figure. Plan a visit in one of her jobs, open a
            pass in it, and read the dry places first.
          </p>
          <p className="small note">Surveyors and trainees open passes; whoever books plans the visit.</p>
        </Empty>
        <Invented show={data.viewer.practice.invented} />
      </div>
    )
  return (
    <ResurveyView
      figure={hull.figure}
      spots={all}
      {...says}
      layers={lies.layers}
      fittings={lies.fittings}
      behind={lies.behind}
      spells={vessel.spells}
      photos={vessel.photos}
      contrastEdges={data.viewer.practice.contrastEdges}
      invented={data.viewer.practice.invented}
    />
  )
}
