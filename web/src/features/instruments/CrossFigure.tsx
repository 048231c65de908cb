import type { InstrumentPageQuery } from '../../graphql/gen/graphql'
import { tenths } from '../../model/number'
import { Table } from '../../ui/Table'
import s from './instruments.module.css'

type Set = NonNullable<InstrumentPageQuery['instrumentBook']>['comparisons'][number]

const size = 320
const edge = 34

/** Spots read with two instruments, the line with errors in both, and the band a new pair must be expected in. */
export function CrossFigure({ set }: { set: Set }) {
  const first = set.firstTenths.map((value) => (value ?? 0) / 10)
  const second = set.secondTenths.map((value) => (value ?? 0) / 10)
  const xs = span([...first, ...set.band.map(({ at }) => at)])
  const ys = span([...second, ...set.band.flatMap(({ lower, upper }) => [lower, upper])])
  const x = (value: number) => edge + ((value - xs[0]) / (xs[1] - xs[0])) * (size - edge - 8)
  const y = (value: number) => size - edge - ((value - ys[0]) / (ys[1] - ys[0])) * (size - edge - 8)
  const path = (of: (p: Set['band'][number]) => number) =>
    set.band.map((p, k) => `${k ? 'L' : 'M'}${x(p.at).toFixed(1)} ${y(of(p)).toFixed(1)}`).join('')
  const names = { first: set.first.instrument.name, second: set.second.instrument.name }
  return (
    <div className={s.cross}>
      <svg
        viewBox={`0 0 ${size} ${size}`}
        role="img"
        aria-label={`${names.second} over ${names.first}, ${first.length} spots; the table says the same`}
      >
        <path d={`M${edge} 8V${size - edge}H${size - 8}`} className={s.axis} />
        {set.band.length > 0 && (
          <>
            <path
              d={`${path((p) => p.upper)}L${set.band
                .toReversed()
                .map((p) => `${x(p.at).toFixed(1)} ${y(p.lower).toFixed(1)}`)
                .join('L')}Z`}
              className={s.band}
            />
            <path d={path((p) => p.upper) + path((p) => p.lower)} className={s.limit} />
            <path d={path((p) => p.value)} className={s.fit} />
          </>
        )}
        {first.map((value, k) => (
          <circle key={k} cx={x(value)} cy={y(second[k] ?? 0)} r="3" className={s.point} />
        ))}
        {xs.map((value, k) => (
          <text key={`x${k}`} x={x(value)} y={size - edge + 14} textAnchor={k ? 'end' : 'start'}>
            {axis(value)}
          </text>
        ))}
        {ys.map((value, k) => (
          <text key={`y${k}`} x={edge - 4} y={y(value) + (k ? 10 : 0)} textAnchor="end">
            {axis(value)}
          </text>
        ))}
        <text x={size - 8} y={size - 4} textAnchor="end">
          {names.first}
        </text>
        <text transform={`translate(12 8) rotate(-90)`} textAnchor="end">
          {names.second}
        </text>
      </svg>
      <details>
        <summary>as a table</summary>
        <Table
          caption={`${names.first} and ${names.second}, spot by spot`}
          hideCaption
          columns={[
            { head: 'spot', names: true, num: true, cell: (k: number) => k + 1 },
            { head: names.first, num: true, cell: (k) => tenths(set.firstTenths[k] ?? 0) },
            { head: names.second, num: true, cell: (k) => tenths(set.secondTenths[k] ?? 0) },
            {
              head: 'line',
              num: true,
              cell: (k) => (set.line ? (set.line.intercept + set.line.slope * (first[k] ?? 0)).toFixed(1) : '–'),
            },
          ]}
          rows={first.map((_, k) => k)}
          id={(k) => `${k}`}
        />
        {set.band.length > 0 && (
          <Table
            caption="The band along the span"
            columns={[
              {
                head: `${names.first} reads`,
                names: true,
                num: true,
                cell: (p: Set['band'][number]) => p.at.toFixed(1),
              },
              { head: `${names.second} expected`, num: true, cell: (p) => p.value.toFixed(1) },
              {
                head: 'between',
                num: true,
                nowrap: true,
                cell: (p) => `${p.lower.toFixed(1)} and ${p.upper.toFixed(1)}`,
              },
              { head: 'narrow enough', cell: (p) => (p.comparable ? 'yes' : 'no') },
            ]}
            rows={set.band.filter((_, k) => k % 4 === 0)}
            id={(p) => `${p.at}`}
          />
        )}
      </details>
    </div>
  )
}

const axis = (value: number) => `${value}`.replace('-', '−')

/** Ends in whole tens, so that the axes carry round figures. */
function span(values: readonly number[]): [number, number] {
  const least = Math.floor(Math.min(...values) / 10) * 10
  return [least, Math.max(least + 10, Math.ceil(Math.max(...values) / 10) * 10)]
}
