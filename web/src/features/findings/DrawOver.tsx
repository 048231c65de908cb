import { type MouseEvent, useState } from 'react'
import { Choice } from '../../ui/Choice'
import { NumberField, TextField } from '../../ui/Field'
import s from './findings.module.css'

/** What lies over a photo, in thousandths of its sides. */
export interface Drawn {
  kind: 'arrow' | 'ring' | 'text'
  x: number
  y: number
  toX?: number
  toY?: number
  text?: string
}

const kinds = [
  { value: 'arrow', name: 'Arrow' },
  { value: 'ring', name: 'Ring' },
  { value: 'text', name: 'Words' },
] as const

const say: Record<Drawn['kind'], string> = { arrow: 'Arrow', ring: 'Ring', text: 'Words' }

/** Arrows, rings and words over a photo: a layer of its own, the picture stays as taken. */
export function DrawOver({
  src,
  alt,
  drawn,
  onDraw,
}: {
  src: string
  alt: string
  drawn: readonly Drawn[]
  onDraw: ((drawn: Drawn[]) => void) | null
}) {
  const [kind, setKind] = useState<Drawn['kind']>('arrow')
  const [text, setText] = useState('')
  const [from, setFrom] = useState<[number, number] | null>(null)
  const [tall, setTall] = useState(750)

  function tap(event: MouseEvent<SVGSVGElement>) {
    if (!onDraw) return
    const box = event.currentTarget.getBoundingClientRect()
    const x = Math.round(((event.clientX - box.left) / box.width) * 1000)
    const y = Math.round(((event.clientY - box.top) / box.height) * 1000)
    if (kind === 'text') {
      if (text.trim()) onDraw([...drawn, { kind, x, y, text: text.trim() }])
    } else if (from) {
      onDraw([...drawn, { kind, x: from[0], y: from[1], toX: x, toY: y }])
      setFrom(null)
    } else setFrom([x, y])
  }

  return (
    <div>
      <div className={s.over}>
        <img
          className={s.view}
          src={src}
          alt={alt}
          onLoad={(event) => setTall((1000 * event.currentTarget.naturalHeight) / event.currentTarget.naturalWidth)}
        />
        <svg viewBox={`0 0 1000 ${tall}`} aria-hidden="true" onClick={tap} data-drawing={onDraw ? true : undefined}>
          {drawn.map((one, k) => (
            <Mark key={k} one={one} tall={tall / 1000} />
          ))}
          {from && <circle cx={from[0]} cy={(from[1] * tall) / 1000} r={8} className={s.pen} />}
        </svg>
      </div>
      {drawn.length > 0 && (
        <ul className="plain-list small">
          {drawn.map((one, k) => (
            <li key={k}>
              {say[one.kind]}
              {one.text ? `: ${one.text}` : ` from ${one.x}, ${one.y} to ${one.toX ?? 0}, ${one.toY ?? 0}`}{' '}
              {onDraw && (
                <button
                  type="button"
                  className="quiet"
                  onClick={() => onDraw(drawn.filter((_, n) => n !== k))}
                  aria-label={`Take off ${say[one.kind].toLowerCase()} ${k + 1}`}
                >
                  Take off
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
      {onDraw && (
        <div className={s.form}>
          <Choice label="Draw over it" value={kind} onChange={setKind} options={kinds} />
          {kind === 'text' && (
            <TextField
              label="The words"
              value={text}
              maxLength={80}
              onChange={(event) => setText(event.target.value)}
            />
          )}
          <p className="small note" role="status">
            {kind === 'text'
              ? text.trim()
                ? 'Tap where the words begin.'
                : 'Write the words, then tap where they begin.'
              : from
                ? kind === 'arrow'
                  ? 'Now tap what it points at.'
                  : 'Now tap how far the ring goes.'
                : kind === 'arrow'
                  ? 'Tap where the arrow begins.'
                  : 'Tap the middle of the ring.'}{' '}
            Nothing of the picture is altered.
          </p>
          <Typed kind={kind} text={text} onAdd={(one) => onDraw([...drawn, one])} />
        </div>
      )}
    </div>
  )
}

function Mark({ one, tall }: { one: Drawn; tall: number }) {
  const [x, y, tx, ty] = [one.x, one.y * tall, one.toX ?? 0, (one.toY ?? 0) * tall]
  if (one.kind === 'ring') {
    const r = Math.max(12, Math.hypot(tx - x, ty - y))
    return (
      <>
        <circle cx={x} cy={y} r={r} className={s.halo} />
        <circle cx={x} cy={y} r={r} className={s.pen} />
      </>
    )
  }
  if (one.kind === 'text')
    return (
      <text x={x} y={y} className={s.words}>
        {one.text}
      </text>
    )
  const turn = Math.atan2(ty - y, tx - x)
  const head = [2.6, -2.6].map((side) => `M${tx} ${ty}l${36 * Math.cos(turn + side)} ${36 * Math.sin(turn + side)}`)
  const d = `M${x} ${y}L${tx} ${ty}${head.join('')}`
  return (
    <>
      <path d={d} className={s.halo} />
      <path d={d} className={s.pen} />
    </>
  )
}

/** The same by keyboard: where it begins and ends, in hundredths of the picture's sides. */
function Typed({ kind, text, onAdd }: { kind: Drawn['kind']; text: string; onAdd: (one: Drawn) => void }) {
  const [at, setAt] = useState({ x: '', y: '', toX: '', toY: '' })
  const ends = kind === 'text' ? (['x', 'y'] as const) : (['x', 'y', 'toX', 'toY'] as const)
  const labels = { x: 'From the left', y: 'From the top', toX: 'To, from the left', toY: 'To, from the top' }
  const value = (key: (typeof ends)[number]) => Math.round(Number(at[key].replace(',', '.')) * 10)
  const ok =
    ends.every((key) => at[key].trim() && value(key) >= 0 && value(key) <= 1000) && (kind !== 'text' || text.trim())
  return (
    <details>
      <summary>By figures</summary>
      <div className={s.pair}>
        {ends.map((key) => (
          <NumberField
            key={key}
            label={labels[key]}
            unit="%"
            value={at[key]}
            onChange={(event) => setAt((now) => ({ ...now, [key]: event.target.value }))}
          />
        ))}
      </div>
      <button
        type="button"
        className="plain"
        disabled={!ok}
        onClick={() => {
          const whole = Object.fromEntries(ends.map((key) => [key, value(key)])) as Pick<Drawn, 'x' | 'y'>
          onAdd(kind === 'text' ? { kind, ...whole, text: text.trim() } : { kind, ...whole })
        }}
      >
        Draw it
      </button>
    </details>
  )
}
