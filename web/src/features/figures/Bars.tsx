import { useId } from 'react'
import { useWidth } from '../../ui/useWidth'
import s from './figures.module.css'

export interface Bar {
  name: string
  value: number
  /** Ruled instead of inked: what is not done. */
  open?: boolean
}

const widest = 560
const left = 140
const right = 44
const row = 26
const foot = 22

/** Counts as bars from nought on one scale, each with its figure; the table beside it says the same. */
export function Bars({ bars, label, unit }: { bars: readonly Bar[]; label: string; unit: string }) {
  const hatch = useId()
  const [ref, room] = useWidth<HTMLDivElement>(widest)
  const width = Math.min(room, widest)
  const most = Math.max(1, ...bars.map(({ value }) => value))
  const step = tick(most)
  const end = Math.ceil(most / step) * step
  const x = (value: number) => left + (value / end) * (width - left - right)
  const height = bars.length * row + foot
  return (
    <div ref={ref}>
      <svg
        className={s.bars}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`${label}; the table says the same`}
      >
        <defs>
          <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path d="M0 0V6" className={s.rule} />
          </pattern>
        </defs>
        {Array.from({ length: Math.round(end / step) + 1 }, (_, k) => k * step).map((at) => (
          <g key={at}>
            <path d={`M${x(at)} 0V${height - foot}`} className={at === 0 ? s.axis : s.hair} />
            <text x={x(at)} y={height - 6} textAnchor="middle">
              {at}
            </text>
          </g>
        ))}
        <text x={left - 8} y={height - 6} textAnchor="end">
          {unit}
        </text>
        {bars.map((bar, k) => (
          <g key={bar.name} transform={`translate(0 ${k * row})`}>
            <text x={left - 8} y={17} textAnchor="end" className={s.name}>
              {bar.name}
            </text>
            <rect
              x={left}
              y={6}
              width={Math.max(0, x(bar.value) - left)}
              height={14}
              className={s.bar}
              fill={bar.open ? `url(#${hatch})` : 'var(--water)'}
            />
            <text x={x(bar.value) + 6} y={17} className={s.value}>
              {bar.value}
            </text>
          </g>
        ))}
      </svg>
    </div>
  )
}

/** A round step with about four to the whole. */
export function tick(most: number): number {
  const raw = most / 4
  const ten = 10 ** Math.floor(Math.log10(Math.max(raw, 1)))
  return [1, 2, 5, 10].map((n) => n * ten).find((n) => n >= raw) ?? 1
}
