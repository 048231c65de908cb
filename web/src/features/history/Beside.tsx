import { HullFigure, type HullFigureProps } from '../../figure/HullFigure'
import { longDay, monthYear, visitDay } from '../../model/dates'
import { comparable, edgesOf, heights, type Spot, said, signedUnits } from '../../model/history'
import { cartouche } from './context'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'

/** Two passes on two plates of one scale. */
export function Beside({
  common,
  width,
  small,
  pair,
  readings,
}: {
  common: Omit<HullFigureProps, 'width' | 'readings'>
  width: number
  small: boolean
  pair: readonly Pass[]
  readings: (pass: Pass) => HullFigureProps['readings']
}) {
  return (
    <div className={s.pair}>
      {pair.map((pass) => (
        <figure key={pass.id}>
          <HullFigure
            {...common}
            width={width}
            small={small}
            mode="today"
            readings={readings(pass) ?? []}
            label={`Readings of ${visitDay(pass.on, pass, longDay)}`}
          />
          <figcaption>
            <b>{visitDay(pass.on, pass, longDay)}</b> <span className="wet">{cartouche(pass)}</span>
            {!comparable(pass.standing) && <span className="note"> · shown, not compared</span>}
          </figcaption>
        </figure>
      ))}
    </div>
  )
}

const wide = 380

/** Every like pass above its own dry baseline: a rule for each place, the middle, the chosen place; and the same in figures. */
export function Levels({
  passes,
  spots,
  chosen,
  contrastEdges,
}: {
  passes: readonly Pass[]
  spots: readonly Spot[]
  chosen: Spot | null
  contrastEdges: readonly number[]
}) {
  const rows = passes
    .filter(({ standing }) => comparable(standing))
    .flatMap((pass) => {
      const found = heights(spots, pass)
      return found ? [{ pass, ...found, edges: edgesOf(pass, contrastEdges) }] : []
    })
    .reverse()
  if (rows.length < 2) return null
  const low = Math.min(0, ...rows.map(({ least }) => least))
  const top = Math.max(...rows.map(({ most }) => most))
  const x = (v: number) => 4 + ((v - low) / (top - low || 1)) * (wide - 8)
  const at = (pass: Pass) => (chosen ? said(pass, chosen.slot).contrast : null)
  return (
    <table className={s.levels}>
      <caption>Each above its own dry baseline, scale units</caption>
      <thead>
        <tr>
          <th scope="col">visit</th>
          <th scope="col" className="num">
            places
          </th>
          <th scope="col" className="num">
            least
          </th>
          <th scope="col" className="num">
            middle
          </th>
          <th scope="col" className="num">
            most
          </th>
          <th scope="col" className={s.strip}>
            <svg viewBox={`0 0 ${wide} 14`} width={wide} height="14" aria-hidden="true">
              {ticks(low / 20, top / 20).map((v) => (
                <g key={v}>
                  <text x={x(v * 20)} y="9" textAnchor="middle" fontSize="11" fill="var(--ink-2)">
                    {v}
                  </text>
                  <path d={`M${x(v * 20)} 11v3`} stroke="var(--ink)" />
                </g>
              ))}
            </svg>
            <span className="sr">{chosen ? `${chosen.side} ${chosen.label}` : 'every place'}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ pass, all, least, most, middle, edges }) => {
          const here = at(pass)
          return (
            <tr key={pass.id}>
              <th scope="row" className="nowrap">
                {monthYear(pass.on)}
              </th>
              <td className="num">{all.length}</td>
              <td className="num">{signedUnits(least)}</td>
              <td className="num">
                <b>{signedUnits(middle)}</b>
              </td>
              <td className="num">{signedUnits(most)}</td>
              <td className={s.strip}>
                <svg viewBox={`0 0 ${wide} 20`} width={wide} height="20" aria-hidden="true">
                  <rect x={x(0)} width={Math.max(0, x(20 * (edges?.[0] ?? 0)) - x(0))} height="20" fill="var(--land)" />
                  <path d={`M${x(0)} 0v20`} stroke="var(--ink)" />
                  <path d={all.map((v) => `M${x(v).toFixed(1)} 6v8`).join('')} stroke="var(--ink)" strokeWidth=".9" />
                  <path d={`M${x(middle)} 1v18`} stroke="var(--ink)" strokeWidth="2.4" />
                  {here !== null && (
                    <path
                      d={`M${x(here) - 5} 10l5-5 5 5-5 5z`}
                      fill="var(--accent)"
                      stroke="var(--ground)"
                      strokeWidth="1"
                    />
                  )}
                </svg>
                {here !== null && <span className="sr">{signedUnits(here)}</span>}
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

/** Round tens within a span of scale units, nought among them. */
function ticks(low: number, top: number): number[] {
  const every = top - low > 60 ? 20 : 10
  const out = []
  for (let v = Math.ceil(low / every) * every; v <= top; v += every) out.push(v)
  return out
}
