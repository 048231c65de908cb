import type { InstrumentPageQuery } from '../../graphql/gen/graphql'
import { shortDay, yearOf } from '../../model/dates'
import { capital } from '../../model/words'
import { Table } from '../../ui/Table'
import { useNarrow } from '../../ui/useWidth'
import s from './instruments.module.css'
import { Said } from './Said'

type Chart = NonNullable<InstrumentPageQuery['instrumentBook']>['charts'][number]
type Point = Chart['points'][number]

/** Drawn as broad as it is shown, so that its figures keep their size on a phone; as many years are named as stand apart. */
const drawn = { desk: { width: 440, years: 6 }, phone: { width: 350, years: 4 } } as const
const height = 130
const left = 36
const right = 8
const top = 10
const foot = 20

/** One block over the years: a point a pass, limits by the first of them, the weighted mean as a line. */
export function BlockChart({ chart, instrument, scale }: { chart: Chart; instrument: string; scale: string }) {
  const { points } = chart
  const title = `${capital(chart.block)} block`
  return (
    <figure className={s.chart}>
      <h3>
        {title} <span className={s.aside}>scale {scale}</span>
      </h3>
      <Said says={chart.says} />
      {points.length > 1 && <Drawing chart={chart} label={`${title} of ${instrument} over the years`} />}
      {points.length > 0 && (
        <details>
          <summary>as a table</summary>
          <Table
            caption={`${title} of ${instrument}`}
            hideCaption
            columns={[
              { head: 'pass of', names: true, nowrap: true, cell: (p: Point) => shortDay(p.at) },
              { head: 'median', num: true, cell: (p) => p.value.toFixed(1) },
              { head: 'checks', num: true, cell: (p) => p.checks },
              { head: 'weighted mean', num: true, cell: (p) => (chart.settled ? p.weighted.toFixed(1) : '–') },
              { head: 'before to after', num: true, cell: (p) => (p.shift == null ? '–' : signedUnits(p.shift)) },
              { head: 'stands out', cell: (p) => standsOut(p) || '–' },
            ]}
            rows={points}
            id={(p) => p.pass}
          />
        </details>
      )}
    </figure>
  )
}

function standsOut(p: Point): string {
  return [p.out && 'beyond the limits', p.drifting && 'mean has drifted', p.moved && 'moved within the pass']
    .filter(Boolean)
    .join(', ')
}

function signedUnits(value: number): string {
  const size = Math.abs(value).toFixed(1)
  return size === '0.0' ? '±0.0' : `${value > 0 ? '+' : '−'}${size}`
}

function Drawing({ chart, label }: { chart: Chart; label: string }) {
  const { points, settled, mean, lower, upper } = chart
  const { width, years: named } = drawn[useNarrow(700) ? 'phone' : 'desk']
  const years = points.map(({ at }) => yearOf(at))
  const from = Math.floor(Math.min(...years))
  const to = Math.max(from + 1, Math.ceil(Math.max(...years)))
  const values = [...points.map(({ value }) => value), ...(settled ? [lower, upper] : [])]
  const least = Math.min(...values)
  const most = Math.max(...values)
  const pad = Math.max(0.5, (most - least) * 0.08)
  const x = (at: string) => left + ((yearOf(at) - from) / (to - from)) * (width - left - right)
  const y = (value: number) =>
    height - foot - ((value - least + pad) / (most - least + 2 * pad)) * (height - foot - top)
  const every = Math.ceil((to - from) / named)
  return (
    <div>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={`${label}; the table below says the same`}>
        {Array.from({ length: to - from + 1 }, (_, k) => from + k)
          .filter((year) => (year - from) % every === 0)
          .map((year) => (
            <g key={year}>
              <path d={`M${x(`${year}-01-01`)} ${height - foot}v4`} className={s.axis} />
              <text
                x={x(`${year}-01-01`)}
                y={height - 4}
                textAnchor={year === from ? 'start' : year === to ? 'end' : 'middle'}
              >
                {year}
              </text>
            </g>
          ))}
        <path d={`M${left} ${height - foot}H${width - right}`} className={s.axis} />
        {settled > 0 && (
          <g>
            <path d={`M${left} ${y(mean)}H${width - right}`} className={s.mean} />
            <path
              d={`M${left} ${y(lower)}H${width - right}M${left} ${y(upper)}H${width - right}`}
              className={s.limit}
            />
            {[upper, mean, lower].map((value, k) => (
              <text key={k} x={left - 4} y={y(value) + 4} textAnchor="end">
                {value.toFixed(1)}
              </text>
            ))}
            <path
              d={points.map((p, k) => `${k ? 'L' : 'M'}${x(p.at).toFixed(1)} ${y(p.weighted).toFixed(1)}`).join('')}
              className={s.weighted}
            />
          </g>
        )}
        {points.map((p) => (
          <Mark key={p.pass} p={p} at={[x(p.at), y(p.value)]} />
        ))}
      </svg>
      <p className="small note">
        {settled > 0
          ? `A point a pass, the median of its checks. Broken lines: control limits set by the first ${settled}. Thin line: weighted mean. Ringed: beyond the limits. Triangle: moved within the pass.`
          : 'A point a pass, the median of its checks.'}
      </p>
    </div>
  )
}

/** Form before colour: a disc, a disc in a ring where it is beyond the limits, a triangle where it moved. */
function Mark({ p, at: [x, y] }: { p: Point; at: [number, number] }) {
  return (
    <g>
      {p.moved ? (
        <path d={`M${x} ${y - 5}l5 8.5h-10z`} className={s.point} />
      ) : (
        <circle cx={x} cy={y} r="3" className={s.point} />
      )}
      {p.out && <circle cx={x} cy={y} r="6.5" className={s.ring} />}
    </g>
  )
}
