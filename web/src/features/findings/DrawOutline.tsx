import { type MouseEvent, useMemo, useState } from 'react'
import { HullFigure } from '../../figure/HullFigure'
import { Shape } from '../../figure/shape'
import { Sheet } from '../../figure/sheet'
import { read } from '../../figure/spec'
import { px } from '../../figure/svg'
import { type Outline, parseOutline, writeOutline } from '../../model/outline'
import { TextField } from '../../ui/Field'
import { useNarrow, useWidth } from '../../ui/useWidth'
import s from './findings.module.css'

/** Where a finding lies, as a shape on the skin: tapped corner by corner on the hull, or typed in metres. */
export function DrawOutline({
  spec,
  text,
  error,
  onChange,
}: {
  spec: unknown
  text: string
  error: string | undefined
  onChange: (text: string) => void
}) {
  const [drawing, draw] = useState(false)
  const known = useMemo(() => read(spec), [spec])
  return (
    <div>
      <TextField
        label="Or inside an outline"
        placeholder="port 4.5 0.6; 5 0.6; 5 0.9"
        value={text}
        error={error}
        onChange={(event) => onChange(event.target.value)}
        help="The side, then each corner: metres forward of the aft perpendicular, metres down the skin."
      />
      {known && (
        <button type="button" className="quiet" aria-expanded={drawing} onClick={() => draw(!drawing)}>
          {drawing ? 'Put the hull away' : 'Draw it on the hull'}
        </button>
      )}
      {known && drawing && <Hull spec={spec} shape={new Shape(known)} text={text} onChange={onChange} />}
    </div>
  )
}

/** Corners as typed so far, also while there are too few of them for an outline. */
function cornersOf(text: string): Outline {
  const parsed = parseOutline(text)
  if (parsed.ok) return parsed.value
  const filled = parseOutline(`${text}; 0 0; 0 0; 0 0`)
  return filled.ok ? { ...filled.value, corners: filled.value.corners.slice(0, -3) } : { side: null, corners: [] }
}

function Hull({
  spec,
  shape,
  text,
  onChange,
}: {
  spec: unknown
  shape: Shape
  text: string
  onChange: (text: string) => void
}) {
  const narrow = useNarrow(700)
  const [ref, width] = useWidth<HTMLDivElement>(480)
  const sheet = new Sheet(shape, { width, small: narrow })
  const outline = cornersOf(text)
  const { side, corners } = outline

  function tap(event: MouseEvent<SVGSVGElement>) {
    const box = event.currentTarget.getBoundingClientRect()
    const x = ((event.clientX - box.left) / box.width) * sheet.w
    const y = ((event.clientY - box.top) / box.height) * sheet.height
    const on = side ?? (y < sheet.mid ? 'port' : 'starboard')
    const down = shape.half - Math.abs(y - sheet.mid) / sheet.s
    const corner: [number, number] = [Math.round(sheet.metres(x) * 100) * 10, Math.round(down * 100) * 10]
    onChange(writeOutline({ side: on, corners: [...corners, corner] }))
  }

  const points = side
    ? corners.map(([along, down]) =>
        sheet
          .at(side, along / 1000, down / 1000)
          .map(px)
          .join(','),
      )
    : []
  return (
    <div className={s.drawing} ref={ref}>
      <HullFigure spec={spec} width={width} small={narrow} label="The hull, to draw on" />
      <svg viewBox={`0 0 ${px(sheet.w)} ${px(sheet.height)}`} aria-hidden="true" onClick={tap}>
        <polygon points={points.join(' ')} />
        {points.map((point) => {
          const [cx, cy] = point.split(',')
          return <circle key={point} cx={cx} cy={cy} r={4} />
        })}
      </svg>
      <div className="buttons">
        <button
          type="button"
          className="plain"
          disabled={corners.length === 0}
          onClick={() => onChange(corners.length > 1 ? writeOutline({ side, corners: corners.slice(0, -1) }) : '')}
        >
          Take back a corner
        </button>
        <span className="small note" role="status">
          {corners.length === 0 ? 'Tap the corners in turn.' : `${corners.length} corners, ${side}`}
        </span>
      </div>
    </div>
  )
}
