import type { ReactNode } from 'react'
import { Link } from 'react-router'

interface StepProps {
  done: boolean
  /** What is there of it, beside the words. */
  has?: string | undefined
  /** The way to do it; left out where it is done or another's to do. */
  way?: { to: string; name: string } | undefined
  children: ReactNode
}

/** One thing to be done and whether it is, told by form and not by colour. Stands in a list of the class `steps`. */
export function Step({ done, has, way, children }: StepProps) {
  return (
    <li>
      <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
        {done ? <path d="M2 7.500l3.400 3.500L12 3" className="s" /> : <path d="M2 2h10v10H2z" className="s" />}
      </svg>
      <span>
        <span className="sr">{done ? 'done: ' : 'missing: '}</span>
        {children}
      </span>
      {has && <span className="note">{has}</span>}
      {way && (
        <Link className="no-print" to={way.to}>
          {way.name}
        </Link>
      )}
    </li>
  )
}
