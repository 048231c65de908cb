import { type ReactNode, useLayoutEffect, useRef } from 'react'
import s from './resurvey.module.css'

/** A window on a plate drawn large: it opens over the chosen place, and follows that where it leaves the window. */
export function Closer({ on, chosen, children }: { on: boolean; chosen: string; children: ReactNode }) {
  const box = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    const mark = on && box.current?.querySelector(`[data-place="${CSS.escape(chosen)}"]`)
    if (!mark || !box.current) return
    const [outer, inner] = [box.current.getBoundingClientRect(), mark.getBoundingClientRect()]
    const x = inner.x + inner.width / 2 - outer.x
    const y = inner.y + inner.height / 2 - outer.y
    const inside = x > edge && y > edge && x < outer.width - edge && y < outer.height - edge
    if (!inside) box.current.scrollBy(x - outer.width / 2, y - outer.height / 2)
  }, [on, chosen])
  return on ? (
    <div className={s.close} ref={box}>
      {children}
    </div>
  ) : (
    children
  )
}

/** Nearer to the window's rim than this a place counts as outside, px. */
const edge = 40
