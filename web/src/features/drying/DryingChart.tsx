import type { DryingLogFragment } from '../../graphql/gen/graphql'
import s from './drying.module.css'

const left = 46
const right = 12
const top = 26
const plot = 250
const gap = 34
const air = 96

interface Scale {
  (value: number): number
  ticks: number[]
}

function scale(from: number, to: number, pixelFrom: number, pixelTo: number, step: number): Scale {
  const at = ((value: number) => pixelFrom + ((value - from) / (to - from)) * (pixelTo - pixelFrom)) as Scale
  at.ticks = []
  for (let tick = Math.ceil(from / step) * step; tick <= to + 1e-9; tick += step) at.ticks.push(tick)
  return at
}

const inDays = (at: string, began: string) => (Date.parse(at) - Date.parse(began)) / 86_400_000

const path = (points: [number, number][]) =>
  points.map(([x, y], k) => `${k ? 'L' : 'M'}${x.toFixed(1)} ${y.toFixed(1)}`).join('')

/** The series above her dry baseline with its fitted course, the washes, and the air below: one ink, and a table says the same. */
export function DryingChart({ log, width }: { log: DryingLogFragment; width: number }) {
  const shown = log.passes.filter(({ level }) => level != null)
  if (shown.length === 0) return null
  const washes = log.washes.map(({ at, how }) => ({ days: inDays(at, log.began), how })).filter(({ days }) => days >= 0)
  const last = Math.max(...shown.map(({ days }) => days), ...washes.map(({ days }) => days), 7)
  const end = Math.ceil((last * 1.25) / 7) * 7
  const curve = log.curve.filter(({ days }) => days <= end)
  const levels = shown.flatMap(({ level }) => (level == null ? [] : [level]))
  const highest = Math.max(...levels, ...curve.map(({ value }) => value)) * 1.12
  const most = Math.ceil(Math.max(highest, 5) / 5) * 5
  const x = scale(0, end, left, width - right, 7)
  const y = scale(0, most, top + plot, top, most > 30 ? 10 : 5)
  const clip = (value: number | null | undefined, other: number) => Math.min(most, Math.max(0, value ?? other))
  const foot = top + plot + gap
  const rh = scale(0, 100, foot + air, foot, 50)
  const logged = (tent: number) =>
    daily(log.weather, tent)
      .filter(([days]) => days >= 0 && days <= end)
      .map(([days, humidity]): [number, number] => [x(days), rh(humidity)])
  const under = logged(1)
  const outside = logged(0)
  const inside = log.tent && (
    <line className={s.floor} x1={left} x2={width - right} y1={rh(log.tent.humidity)} y2={rh(log.tent.humidity)} />
  )
  return (
    <svg
      className={s.chart}
      width={width}
      height={foot + air + 30}
      viewBox={`0 0 ${width} ${foot + air + 30}`}
      role="img"
      aria-label="The series of passes, washes and the air; the tables below say the same"
    >
      <text className={s.axis} x={left} y={14}>
        scale units above her own dry baseline
      </text>
      {y.ticks.map((tick) => (
        <g key={tick}>
          <line className={s.rule} x1={left} x2={width - right} y1={y(tick)} y2={y(tick)} />
          <text className={s.figure} x={left - 8} y={y(tick) + 4} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {curve.length > 1 && (
        <>
          <path
            className={s.doubt}
            d={`${path(curve.map(({ days, value, upper }) => [x(days), y(clip(upper, value))]))}${path(
              [...curve].reverse().map(({ days, value, lower }) => [x(days), y(clip(lower, value))]),
            ).replace('M', 'L')}Z`}
          />
          <path className={s.course} d={path(curve.map(({ days, value }) => [x(days), y(clip(value, value))]))} />
        </>
      )}
      {washes.map(({ days, how }, k) => (
        <g key={`${days} ${k}`}>
          <title>{how} wash</title>
          <line className={s.wash} x1={x(days)} x2={x(days)} y1={top} y2={top + plot} />
          <path className={s.wave} d={`M${x(days) - 6} ${top + plot + 8}q3 -5 6 0t6 0`} />
        </g>
      ))}
      {shown.map(({ id, days, level, part }) => (
        <circle key={id} className={part === 'series' ? s.point : s.ring} cx={x(days)} cy={y(clip(level, 0))} r={5} />
      ))}
      {x.ticks.map((tick) => (
        <g key={tick}>
          <line className={s.tick} x1={x(tick)} x2={x(tick)} y1={top + plot} y2={top + plot + 5} />
          {(tick / 7) % (end > 140 || width < 500 ? 2 : 1) === 0 && (
            <text className={s.figure} x={x(tick)} y={top + plot + 20} textAnchor="middle">
              {tick / 7}
            </text>
          )}
        </g>
      ))}
      <line className={s.base} x1={left} x2={width - right} y1={top + plot} y2={top + plot} />
      {rh.ticks.map((tick) => (
        <g key={tick}>
          <line className={s.rule} x1={left} x2={width - right} y1={rh(tick)} y2={rh(tick)} />
          <text className={s.figure} x={left - 8} y={rh(tick) + 4} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {inside}
      <path className={s.outdoors} d={path(outside)} />
      <path className={s.tent} d={path(under)} />
      <text className={s.axis} x={left} y={foot + air + 20}>
        % RH
      </text>
    </svg>
  )
}

/** What the lines of the air below the series are. */
export function airKey({ weather, tent }: DryingLogFragment): string {
  return [
    weather.tent.includes(1) ? 'firm, her cover' : 'the visits’ air alone',
    weather.tent.includes(0) && 'broken, outdoors',
    tent && 'dotted, mean of the air she dries in, the floor it sets',
  ]
    .filter(Boolean)
    .join('; ')
}

/** One mean a day of an air log: hundreds of points would be a smear on paper. */
function daily(weather: DryingLogFragment['weather'], tent: number): [number, number][] {
  const days = new Map<number, [number, number]>()
  weather.hours.forEach((hour, k) => {
    const humidity = weather.humidityPermille[k]
    if (hour == null || humidity == null || weather.tent[k] !== tent) return
    const day = Math.floor(hour / 24)
    const [sum, n] = days.get(day) ?? [0, 0]
    days.set(day, [sum + humidity / 10, n + 1])
  })
  return [...days].sort(([a], [b]) => a - b).map(([day, [sum, n]]) => [day + 0.5, sum / n])
}
