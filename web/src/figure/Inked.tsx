import './figure.css'
import { memo } from 'react'
import { hatches, type Mark } from './plate'
import { pathData, px, used } from './svg'

/** Marks as SVG elements, with the class names of figure.css. */
export const Inked = memo(function Inked({ marks, id }: { marks: readonly Mark[]; id: string }) {
  return marks.map((m, i) => <One key={i} m={m} id={id} />)
})

function One({ m, id }: { m: Mark; id: string }) {
  const ink = { className: m.class, ...(m.fill ? { fill: `url(#${id}-${m.fill})` } : {}) }
  switch (m.kind) {
    case 'path':
      return <path d={pathData(m)} {...ink} />
    case 'circle':
      return <circle cx={px(m.x)} cy={px(m.y)} r={px(m.r)} {...ink} />
    case 'rect':
      return <rect x={px(m.x)} y={px(m.y)} width={px(m.w)} height={px(m.h)} {...ink} />
    case 'text':
      return (
        <text x={px(m.x)} y={px(m.y)} fontSize={px(m.size)} textAnchor={m.anchor} {...ink}>
          {m.text}
        </text>
      )
  }
}

/** The patterns that some marks are filled with. */
export function Patterns({ marks, id }: { marks: readonly Mark[]; id: string }) {
  return used(marks).map((f) => {
    const { angle, pitch, class: cls } = hatches[f]
    return (
      <pattern
        key={f}
        id={`${id}-${f}`}
        width={pitch}
        height={pitch}
        patternUnits="userSpaceOnUse"
        patternTransform={`rotate(${angle})`}
      >
        <rect width={pitch} height={pitch} className="hatch-ground" />
        <path d={`M0 ${pitch / 2}h${pitch}`} className={cls} />
      </pattern>
    )
  })
}
