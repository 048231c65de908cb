import { type ReactNode, useState } from 'react'
import { type Taken, type There, useActs } from './acts'
import s from './board.module.css'

/** A day of a lane; something that was taken up may be let go on it. */
export function Cell({
  there,
  takes,
  className = '',
  style,
  children,
}: {
  there: There
  takes: (taken: Taken) => boolean
  className?: string | undefined
  style?: React.CSSProperties
  children?: ReactNode
}) {
  const { carried, carry, put } = useActs()
  const [over, setOver] = useState(false)
  const open = carried !== null && takes(carried)
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: for the mouse alone; the keyboard has "Move to…"
    <div
      className={`${s.cell} ${className}`}
      style={style}
      data-over={(open && over) || undefined}
      onDragOver={(event) => {
        if (!open) return
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        setOver(false)
        if (!open || !carried) return
        event.preventDefault()
        put(carried, there)
        carry(null)
      }}
    >
      {children}
    </div>
  )
}
