import { type FormEvent, useEffect, useRef, useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { Silhouette } from '../../figure/Silhouette'
import { type FragmentType, read } from '../../graphql/gen'
import { VesselRowFragmentDoc, VesselsPageDocument, type VesselsPageQuery } from '../../graphql/gen/graphql'
import { monthYear } from '../../model/dates'
import { optional, text } from '../../model/search'
import { metres } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { AddVessel } from './AddVessel'
import s from './vessels.module.css'

const choices = { find: text(), after: optional() }

/** Every hull the practice knows, by any name she ever had. */
export default function VesselsPage() {
  const [{ find, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const [typed, setTyped] = useState(find)
  const [adding, setAdding] = useState(false)
  const [{ data, error }, again] = useQuery({
    query: VesselsPageDocument,
    variables: { search: find || null, after },
  })
  const asked = useRef(find)
  // The address follows the typing with a breath between, and the field follows the address where another led there.
  useEffect(() => {
    if (find !== asked.current) {
      asked.current = find
      setTyped(find)
      return
    }
    if (typed === find) return
    const wait = setTimeout(() => {
      asked.current = typed
      choose({ find: typed, after: null })
    }, 250)
    return () => clearTimeout(wait)
  }, [typed, find, choose])
  return (
    <>
      <Running
        title="Vessels"
        right={
          <div className={s.tools}>
            <form role="search" onSubmit={(event: FormEvent) => event.preventDefault()}>
              <label>
                <span className="sr">Find a vessel</span>
                <input
                  type="search"
                  className={s.find}
                  placeholder="any name she ever had, hull no., report no."
                  value={typed}
                  onChange={(event) => setTyped(event.target.value)}
                />
              </label>
            </form>
            <Allowed to="writeVessel">
              <button type="button" className="plain" onClick={() => setAdding(true)}>
                Add a vessel
              </button>
            </Allowed>
          </div>
        }
      >
        one hull each, whatever she is called now
      </Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) => (
            <List
              data={data}
              find={find}
              onAfter={(cursor) => choose({ after: cursor }, { push: true })}
              onAdd={() => setAdding(true)}
            />
          )}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
      <AddVessel open={adding} onClose={() => setAdding(false)} name={typed} />
    </>
  )
}

function List({
  data,
  find,
  onAfter,
  onAdd,
}: {
  data: VesselsPageQuery
  find: string
  onAfter: (cursor: string) => void
  onAdd: () => void
}) {
  const { edges, pageInfo } = data.vessels
  if (edges.length === 0)
    return (
      <Empty
        title={find ? `No vessel answers to “${find}”` : 'No vessel yet'}
        ways={
          <Allowed to="writeVessel">
            <button type="button" className="act" onClick={onAdd}>
              Add a vessel
            </button>
          </Allowed>
        }
      >
        <p>
          {find
            ? 'Former names, hull and craft numbers, official and sail numbers and report numbers were looked through. She may belong to another practice: that is not told.'
            : 'A vessel is one hull for as long as the practice knows her. Her name is never the key: it may change.'}
        </p>
      </Empty>
    )
  return (
    <>
      <ul className={`plain-list ${s.list}`}>
        {edges.map(({ cursor, node }) => (
          <Row key={cursor} vessel={node} />
        ))}
      </ul>
      {pageInfo.hasNextPage && pageInfo.endCursor && (
        <p style={{ paddingTop: 12 }}>
          <button type="button" className="plain" onClick={() => onAfter(pageInfo.endCursor ?? '')}>
            The next thirty
          </button>
        </p>
      )}
    </>
  )
}

function Row({ vessel }: { vessel: FragmentType<typeof VesselRowFragmentDoc> }) {
  const her = read(VesselRowFragmentDoc, vessel)
  return (
    <li className={s.row}>
      <span className={s.sil}>{her.figure ? <Silhouette spec={her.figure} /> : null}</span>
      <span>
        <Link className={s.name} to={`/vessels/${her.id}`}>
          {her.name}
        </Link>
        {her.foundAs && <span className="wet note"> found as {her.foundAs}</span>}
        <span className={`small note ${s.kind}`}>
          {[her.kind, her.loaMm && metres(her.loaMm), her.mouldedYear && `moulded ${her.mouldedYear}`]
            .filter(Boolean)
            .join(', ')}
        </span>
      </span>
      <span className={`small ${s.hullNo}`}>{her.hullNumber && `hull no. ${her.hullNumber}`}</span>
      <span className={s.where}>
        {her.ashore ? `${her.ashore.yard}, day ${her.ashore.days}` : <span className="note">afloat, or not known</span>}
      </span>
      <span className={s.last}>
        {her.lastPassAt ? `read ${monthYear(her.lastPassAt)}` : <span className="note">not read yet</span>}
      </span>
    </li>
  )
}
