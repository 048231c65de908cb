import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { read } from '../../graphql/gen'
import { FindingCardFragmentDoc, LookAgainDocument } from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { placeName } from '../../model/places'
import { capital } from '../../model/words'
import s from './findings.module.css'
import { usePlaces } from './usePlaces'

/** What earlier visits to the boat of this page asked to be looked at again. Nothing where there is nothing. */
export function LookAgain() {
  const { id: vessel = '' } = useParams()
  const [{ data }] = useQuery({ query: LookAgainDocument, variables: { vessel } })
  const { places } = usePlaces(vessel, (data?.lookAgain.length ?? 0) > 0)
  if (!data || data.lookAgain.length === 0) return null
  return (
    <section>
      <h2>Look again here</h2>
      <ul className={`plain-list ${s.spots}`}>
        {data.lookAgain.map((line) => {
          const finding = read(FindingCardFragmentDoc, line.finding)
          return (
            <li key={finding.id}>
              <span>
                <Link to={`/visits/${finding.visit}`}>
                  <b>{capital(finding.kind)}</b>
                </Link>{' '}
                <span className="note">{finding.places.map((place) => placeName(places, place)).join(', ')}</span>
                <br />
                <span className="small note">
                  {finding.sure}, {shortDay(dayIn(line.at, line.timeZone))}. {finding.text}
                </span>
              </span>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
