import { useMemo } from 'react'
import { Inked } from './Inked'
import { Shape } from './shape'
import { silhouette } from './silhouette'
import { read } from './spec'
import { px } from './svg'

/** A row's boat by her shape. An ornament: her name stands beside it. Without dimensions, only her waterline. */
export function Silhouette({ spec, width = 106 }: { spec: unknown; width?: number }) {
  const plate = useMemo(() => {
    const known = read(spec)
    return known && silhouette(new Shape(known), width)
  }, [spec, width])
  const height = width / 2
  return (
    <svg
      className="hull small"
      viewBox={`0 0 ${px(width)} ${px(height)}`}
      width={width}
      height={height}
      aria-hidden="true"
    >
      {plate ? (
        <Inked marks={plate.marks} id="" />
      ) : (
        <path d={`M1 ${height / 2}H${width - 1}`} className="behind bulkhead" />
      )}
    </svg>
  )
}
