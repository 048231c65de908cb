import { yearOf } from '../../model/dates'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'

export interface SpellLine {
  id: string
  plannedLift?: string | null
  plannedLaunch?: string | null
  actualLift?: string | null
  actualLaunch?: string | null
  cancelled: boolean
}

/** A column of the visits below, in units of the ribbon; eight fill a wide page. */
const column = 169

/** A line of time: land where she stood ashore, water where she was afloat; a leader from each pass to its visit. */
export function TimeRibbon({
  passes,
  spells,
  narrow,
  marked,
}: {
  passes: readonly Pass[]
  spells: readonly SpellLine[]
  /** Its width over a list instead of over columns: no leaders, and the marked passes stand out by themselves. */
  narrow: number | null
  marked: readonly (string | undefined)[]
}) {
  const first = passes[0]
  const last = passes.at(-1)
  if (!first || !last) return null
  const width = narrow ?? Math.max(8, passes.length) * column
  const from = yearOf(first.on) - 0.3
  const to = Math.max(yearOf(last.on) + 0.25, from + 1)
  const x = (t: number) => ((t - from) / (to - from)) * width
  const inside = (t: number) => Math.min(width, Math.max(0, x(t)))
  const ashore = spells.flatMap((spell) => {
    const lift = spell.actualLift ?? spell.plannedLift
    const launch = spell.actualLaunch ?? spell.plannedLaunch
    if (!lift || spell.cancelled) return []
    const [a, b] = [inside(yearOf(lift)), inside(launch ? yearOf(launch) : to)]
    return b > 0 && a < width ? [{ id: spell.id, a, b: Math.max(b, a + 5) }] : []
  })
  const years = []
  const every = to - from > 14 ? 4 : to - from > 6 ? 2 : 1
  const dot = (pass: Pass) => (narrow && marked.includes(pass.id) ? 4.2 : 2.6)
  for (let year = Math.ceil(from); year <= to; year++) if (year % every === 0) years.push(year)
  const each = Math.min(width / passes.length, 2 * column) // as broad as the visits below grow
  return (
    <svg className={s.time} viewBox={`0 ${narrow ? -1 : 0} ${width} ${narrow ? 26 : 34}`} aria-hidden="true">
      <rect y="1" width={width} height="9" className={s.afloat} />
      {ashore.map(({ id, a, b }) => (
        <rect key={id} x={a} y="1" width={b - a} height="9" className={s.ashore} />
      ))}
      {years.map((year) => (
        <g key={year}>
          <path d={`M${x(year)} 1v13`} stroke="var(--ink)" strokeWidth=".8" />
          <text x={x(year) + 4} y="21">
            {year}
          </text>
        </g>
      ))}
      {passes.map((pass, i) => (
        <g key={pass.id}>
          {!narrow && <path d={`M${x(yearOf(pass.on))} 5V14L${(i + 0.5) * each} 28V34`} className={s.leadLine} />}
          <circle cx={x(yearOf(pass.on))} cy="5.5" r={dot(pass)} fill="var(--ink)" />
        </g>
      ))}
    </svg>
  )
}
