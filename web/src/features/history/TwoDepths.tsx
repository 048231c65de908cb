import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { read } from '../../graphql/gen'
import { DepthStepFragmentDoc, DepthStepsDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { heights, isVoid, nameOf, type Spot, said, signedUnits } from '../../model/history'
import { DepthSteps } from '../causes/DepthSteps'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'

interface Pair {
  visit: string
  on: string
  deep: Pass
  shallow: Pass
}

/** Visits at which both depths were read against a baseline of their own, oldest first. */
export function pairsOf(passes: readonly Pass[]): Pair[] {
  const out: Pair[] = []
  for (const visit of new Set(passes.map((pass) => pass.visit))) {
    const sensed = (depth: string) =>
      passes.findLast((p) => p.visit === visit && p.instrument?.sensing === depth && p.baseline.medianFortieths != null)
    const [deep, shallow] = [sensed('deep'), sensed('shallow')]
    if (deep && shallow) out.push({ visit, on: deep.on, deep, shallow })
  }
  return out
}

/** What two instruments of unlike depth say together, from visit to visit: each against its own baseline, no scale shared. */
export function TwoDepths({
  pairs,
  spots,
  chosen,
  now,
}: {
  pairs: readonly Pair[]
  spots: readonly Spot[]
  chosen: Spot | null
  now: Pass
}) {
  const { id = '' } = useParams()
  const [{ data }] = useQuery({ query: DepthStepsDocument, variables: { id, pass: now.id } })
  const steps = read(DepthStepFragmentDoc, data?.causes?.depthSteps ?? [])
  const last = steps.at(-1)
  return (
    <section aria-labelledby="depths-head">
      <h2 id="depths-head">Two depths</h2>
      <Course pairs={pairs} spots={spots} chosen={chosen} />
      {steps.length > 0 && <DepthSteps steps={steps} chosen={chosen && { slot: chosen.slot, name: nameOf(chosen) }} />}
      {last && <p className="small note">{last.says.text}</p>}
    </section>
  )
}

const wide = 300

/** The middle of the underbody and the chosen place, each depth above its own baseline; figures and marks in one table. */
function Course({ pairs, spots, chosen }: { pairs: readonly Pair[]; spots: readonly Spot[]; chosen: Spot | null }) {
  const at = (pass: Pass) => {
    const it = chosen && said(pass, chosen.slot)
    return it && !isVoid(it) ? it.contrast : null
  }
  const rows = pairs.map(({ visit, on, deep, shallow }) => ({
    visit,
    on,
    deep: heights(spots, deep)?.middle ?? null,
    shallow: heights(spots, shallow)?.middle ?? null,
    deepHere: at(deep),
    shallowHere: at(shallow),
  }))
  const figures = rows.flatMap((row) => [row.deep, row.shallow, row.deepHere, row.shallowHere])
  const top = Math.max(200, ...figures.map((v) => v ?? 0))
  const low = Math.min(0, ...figures.map((v) => v ?? 0))
  const x = (v: number) => 8 + ((v - low) / (top - low)) * (wide - 16)
  return (
    <table className={s.levels}>
      <caption>Above each depth’s own dry baseline; one depth’s figures never taken from the other’s</caption>
      <thead>
        <tr>
          <th scope="col">visit</th>
          <th scope="col" className="num">
            deep
          </th>
          <th scope="col" className="num">
            shallow
          </th>
          <th scope="col" className="num">
            {chosen ? `${nameOf(chosen)}, deep` : ''}
          </th>
          <th scope="col" className="num">
            {chosen ? 'shallow' : ''}
          </th>
          <th scope="col" className={s.strip}>
            <span className="note">● deep, middle ○ shallow, middle ◆ ◇ the place</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {[...rows].reverse().map((row) => (
          <tr key={row.visit}>
            <th scope="row" className="nowrap">
              {shortDay(row.on)}
            </th>
            {[row.deep, row.shallow, row.deepHere, row.shallowHere].map((v, k) => (
              <td key={k} className="num">
                {v !== null && signedUnits(v)}
              </td>
            ))}
            <td className={s.strip}>
              <svg viewBox={`0 0 ${wide} 20`} width={wide} height="20" aria-hidden="true">
                <path d={`M${x(0)} 0v20M${x(0)} 10H${wide - 8}`} stroke="var(--line)" />
                {row.deep !== null && <circle cx={x(row.deep)} cy="10" r="4.5" fill="var(--ink)" />}
                {row.shallow !== null && (
                  <circle
                    cx={x(row.shallow)}
                    cy="10"
                    r="4"
                    fill="var(--ground)"
                    stroke="var(--ink)"
                    strokeWidth="1.6"
                  />
                )}
                {row.deepHere !== null && <path d={diamond(x(row.deepHere))} fill="var(--accent)" />}
                {row.shallowHere !== null && (
                  <path d={diamond(x(row.shallowHere))} fill="var(--ground)" stroke="var(--accent)" strokeWidth="1.6" />
                )}
              </svg>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const diamond = (cx: number) => `M${cx - 6} 10l6-6 6 6-6 6z`
