import type { ReactNode } from 'react'
import { Dash, Halt } from './signs'

const take = (place: HTMLElement | null) => place?.focus()

/**
 * Something the reader should know, in a sentence, with a way out below it. `inPlace` takes the focus: it stands
 * where the button stood that was pressed, and a sheet without focus hears no Escape.
 */
export function Notice({
  bad,
  inPlace,
  children,
  ways,
}: {
  bad?: boolean
  inPlace?: boolean
  children: ReactNode
  ways?: ReactNode
}) {
  return (
    <div
      className={bad ? 'notice bad' : 'notice'}
      role={bad ? 'alert' : 'status'}
      {...(inPlace ? { tabIndex: -1, ref: take } : {})}
    >
      {bad ? <Halt /> : <Dash />}
      <div>
        {children}
        {ways && <div className="buttons">{ways}</div>}
      </div>
    </div>
  )
}

/** Ruled lines where the lines will stand; says so to a screen reader once. */
export function Waiting({ lines = 5, label = 'Reading' }: { lines?: number; label?: string }) {
  return (
    <div className="waiting" role="status">
      <span className="sr">{label}</span>
      {Array.from({ length: lines }, (_, i) => (
        <i key={i} />
      ))}
    </div>
  )
}

/** An unrolled hull in hair lines without readings; one sentence what belongs here, one button, who may do it. */
export function Empty({ title, children, ways }: { title: string; children: ReactNode; ways?: ReactNode }) {
  return (
    <section className="empty">
      <svg viewBox="0 0 380 150" aria-hidden="true" fill="none" stroke="var(--line)" strokeWidth="1">
        <path d="M6 10C130 16 270 12 372 4C350 30 338 42 322 46H58C38 44 16 34 6 26zM58 46C120 74 240 74 322 46" />
        <path d="M6 140C130 134 270 138 372 146C350 120 338 108 322 104H58C38 106 16 116 6 124zM58 104C120 76 240 76 322 104" />
        <path
          d="M58 46H322M58 104H322M80 54V12M110 62V13M140 66V13M170 67V13M200 67V13M230 65V12M260 61V11M290 55V10M80 96V138M110 88V137M140 84V137M170 83V137M200 83V137M230 85V138M260 89V139M290 95V140"
          strokeWidth=".6"
          stroke="var(--hair)"
        />
      </svg>
      <h2>{title}</h2>
      {children}
      {ways && <div className="buttons">{ways}</div>}
    </section>
  )
}
