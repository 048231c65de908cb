import { useEffect, useState } from 'react'
import { flushSync } from 'react-dom'
import { longDay, visitDay } from '../../model/dates'
import { placeWords, plainUnits, saidWord, verdictAt } from '../../model/gate'
import {
  comparable,
  edgesOf,
  isDry,
  isFollow,
  isUnread,
  isVoid,
  readOf,
  type Spot,
  said,
  signedUnits,
  stepOf,
} from '../../model/history'
import { walkOrder } from '../../model/walk'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'

/** Lines shown at first: a hull of many hundreds of places is asked for whole. */
const first = 200

/** The figure said as a table: the same places, the same numbers, in order of reading. */
export function PlacesTable({
  spots,
  now,
  then,
  contrastEdges,
}: {
  spots: readonly Spot[]
  now: Pass
  then: Pass | null
  contrastEdges: readonly number[]
}) {
  const edges = edgesOf(now, contrastEdges)
  const gate = then && comparable(then.standing) ? then.gate : null
  const [all, setAll] = useState(false)
  useEffect(() => {
    const whole = () => flushSync(() => setAll(true)) // paper shows every line
    addEventListener('beforeprint', whole)
    return () => removeEventListener('beforeprint', whole)
  }, [])
  const walk = walkOrder(spots.map((spot) => ({ ...spot, baseline: isDry(said(now, spot.slot)) })))
  const rows = all ? walk : walk.slice(0, first)
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a phone it scrolls sideways, by keyboard too
    <section className={s.table} id="table" aria-label="Places and readings" tabIndex={0}>
      <table>
        <caption>
          Places and readings, {visitDay(now.on, now, longDay)}
          {then && ` beside ${visitDay(then.on, then, longDay)}`}
        </caption>
        <thead>
          <tr>
            <th scope="col">place</th>
            <th scope="col" className="num">
              along, m
            </th>
            <th scope="col" className="num">
              down, m
            </th>
            <th scope="col" className="num">
              read
            </th>
            <th scope="col" className="num">
              above
            </th>
            <th scope="col" className="num">
              step
            </th>
            <th scope="col" className="num">
              mirror
            </th>
            {then && (
              <>
                <th scope="col" className="num">
                  {visitDay(then.on, then)}
                </th>
                <th scope="col" className="num">
                  above
                </th>
                {gate && (
                  <>
                    <th scope="col">verdict</th>
                    <th scope="col" className="num">
                      difference, 95 %
                    </th>
                    <th scope="col" className="num">
                      least shown
                    </th>
                  </>
                )}
              </>
            )}
            <th scope="col">what else</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((spot) => {
            const it = said(now, spot.slot)
            const was = then && said(then, spot.slot)
            const told = gate && verdictAt(gate, spot.slot)
            const words = [
              isDry(it) && 'dry place',
              isUnread(it) && 'not reached',
              isVoid(it) && 'void',
              isFollow(it) && 'follow up inside',
              was && isUnread(was) && 'not reached then',
              told?.why,
            ].filter(Boolean)
            return (
              <tr key={spot.id}>
                <th scope="row">
                  {spot.side} {spot.label}
                </th>
                <td className="num">{spot.along.toFixed(2)}</td>
                <td className="num">{spot.down.toFixed(2).replace('-', '−')}</td>
                <td className="num">{readOf(it)}</td>
                <td className="num">{it.contrast !== null && signedUnits(it.contrast)}</td>
                <td className="num">
                  {edges && it.contrast !== null && !isDry(it) && stepOf(it.contrast / 20, edges)}
                </td>
                <td className="num">{spot.mirror !== null && readOf(said(now, spot.mirror))}</td>
                {then && was && (
                  <>
                    <td className="num">{readOf(was, then.standing === 'quoted')}</td>
                    <td className="num">{gate && was.contrast !== null && signedUnits(was.contrast)}</td>
                    {gate && (
                      <>
                        <td>{told && saidWord[told.said]}</td>
                        <td className="num">{told && placeWords(told)}</td>
                        <td className="num">{told?.least != null && plainUnits(told.least / 20)}</td>
                      </>
                    )}
                  </>
                )}
                <td>{words.join(', ')}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
      {rows.length < walk.length && (
        <p>
          <button type="button" className="plain" onClick={() => setAll(true)}>
            The other {walk.length - rows.length} places
          </button>
        </p>
      )}
    </section>
  )
}
