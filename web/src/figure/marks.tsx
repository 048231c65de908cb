import type { ReactNode } from 'react'
import { Inked } from './Inked'
import { Ink } from './plate'
import { smallStep, step } from './readings'

const ring = <circle cx="7" cy="7" r="5.3" className="s" />
const dotted = <circle cx="7" cy="7" r="5.3" className="s" strokeDasharray="2 2" />
const flag = <path d="M1 1h12v12H1z" className="f" />
const staff = <path d="M1 1.7h12v10.6H1z" className="s" />

/** The small signs that stand beside words. Shape first; colour adds nothing new. */
const signs = {
  // how two passes stand to each other
  same: <circle cx="7" cy="7" r="6" className="f" />,
  alike: (
    <>
      {ring}
      <path d="M7 1.7a5.3 5.3 0 0 1 0 10.6z" className="f" />
    </>
  ),
  unlike: ring,
  quoted: dotted,
  look: (
    <>
      <path d="M1 7q6-7 12 0q-6 7-12 0z" className="s" />
      <circle cx="7" cy="7" r="1.8" className="f" />
    </>
  ),
  above: <circle cx="7" cy="7" r="4.6" className="s" style={{ strokeWidth: 3.4 }} />,
  // what may be said of a change
  up: <path d="M7 .5l6 6V13H1V6.5z" className="f" />,
  down: <path d="M7 13.5l6-6V1H1v6.5z" className="f" />,
  none: <path d="M1 5h12M1 9.5h12" className="s" />,
  untold: (
    <>
      <circle cx="7" cy="7" r="6" className="s" strokeDasharray="2 2" />
      <path d="M5 5.6a2 2 0 1 1 2.7 1.9Q7 7.8 7 8.6M7 10v1" className="s" />
    </>
  ),
  // gaps
  unread: (
    <>
      <rect x="1" y="2.5" width="12" height="9" className="s" />
      <path d="M1 8l5.5-5.5M3 11.5l9-9M8 11.5l5-5" className="s" style={{ strokeWidth: 1 }} />
    </>
  ),
  void: <path d="M2 2l10 10M12 2L2 12" className="s" />,
  follow: <path d="M2 3h10L7 12z" className="f" />,
  due: dotted,
  // where a record is: on this phone, sent, received
  phone: <rect x="2" y="2" width="10" height="10" className="s" />,
  sent: (
    <>
      <rect x="2" y="2" width="10" height="10" className="s" />
      <path d="M2 12L12 2v10z" className="f" />
    </>
  ),
  received: <rect x="1.3" y="1.3" width="11.4" height="11.4" className="f" />,
  // grades: the more urgent, the more of the flag is black
  stop: (
    <>
      {flag}
      <path d="M4 4l6 6M10 4l-6 6" className="cut" />
    </>
  ),
  before: (
    <>
      {flag}
      <path d="M7 3.5v4M7 9.5v1.6" className="cut" />
    </>
  ),
  ashore: (
    <>
      {staff}
      <path d="M1 7h12v5H1z" className="f" />
    </>
  ),
  planned: (
    <>
      {staff}
      <path d="M1 10h12v2H1z" className="f" />
    </>
  ),
  watch: (
    <>
      {ring}
      <path d="M7 3.5V7l2.6 1.8" className="s" />
    </>
  ),
  further: (
    <>
      <circle cx="6" cy="6" r="4.3" className="s" />
      <path d="M9.2 9.2L13 13" className="s" />
    </>
  ),
  record: <path d="M2 4h10M2 7h10M2 10h6" className="s" />,
  // conflicts: one thing in two places; a thing that bends
  hard: (
    <>
      <path d="M.5.5H9V9H.5z" className="f" />
      <path d="M5 5h8.5v8.5H5z" className="f over" />
    </>
  ),
  soft: (
    <>
      <path d="M10 1.7H1v10.6h9" className="s" />
      <path d="M13 1v12" className="s" strokeDasharray="2 2" />
    </>
  ),
  // on the hull beside the readings
  finding: <path d="M7 .8L13.2 7 7 13.2.8 7z" className="s" />,
  window: <rect x="2" y="2" width="10" height="10" className="s" />,
  photo: <path d="M7 1.5l6 11H1z" className="f" />,
} satisfies Record<string, ReactNode>

export type MarkKind = keyof typeof signs

/** A sign. Its word stands beside it; give a label only where it does not. */
export function Mark({ kind, label }: { kind: MarkKind; label?: string }) {
  return (
    <svg
      className="m"
      viewBox="0 0 14 14"
      {...(label ? { role: 'img', 'aria-label': label } : { 'aria-hidden': true })}
    >
      {signs[kind]}
    </svg>
  )
}

const lines = {
  seen: { strokeWidth: 3 },
  indicated: { strokeWidth: 2, strokeDasharray: '7 4' },
  suspected: { strokeWidth: 2, strokeDasharray: '2 3.5' },
}

/** How sure: a firm, a broken, a dotted line, and its word. */
export function Sure({ how }: { how: keyof typeof lines }) {
  return (
    <span className="nowrap">
      <svg className="m sure" viewBox="0 0 30 14" aria-hidden="true">
        <path d="M1 8h28" className="s" style={lines[how]} />
      </svg>
      {how}
    </span>
  )
}

const examples = ['12', '18', '23', '29', '36']

/** A step of the value scale, drawn as on the hull. */
export function ValueSign({ n, small }: { n: number; small?: boolean }) {
  const ink = new Ink()
  if (small) smallStep(ink, 0, 0, 4, n)
  else {
    step(ink, 0, 0, 11, n)
    ink.text(n > 2 ? 'fig rev' : 'fig', examples[n] ?? '', 0, 4.4, 14.3, 'middle')
  }
  const [size, half] = small ? [14, 6] : [26, 13]
  return (
    <svg
      className={`hull sign${small ? ' small' : ''}`}
      width={size}
      height={size}
      viewBox={`${-half} ${-half} ${2 * half} ${2 * half}`}
      aria-hidden="true"
    >
      <Inked marks={ink.marks} id="" />
    </svg>
  )
}

/** The same step as the map's ruling. */
export function RuledSign({ n }: { n: number }) {
  const every = [0, 4, 2, 1, 1][n] ?? 0
  const rules = [2, 4, 6, 8, 10, 12, 14].filter((_, j) => every > 0 && j % every === (every === 4 ? 1 : 0))
  return (
    <svg className="hull sign" width="26" height="16" viewBox="0 0 26 16" aria-hidden="true">
      <rect width="26" height="16" className={`f${n}`} />
      {rules.map((y) => (
        <path key={y} d={`M0 ${y}h26`} className={`tint t${n}`} />
      ))}
      <rect x=".4" y=".4" width="25.2" height="15.2" className="inner" />
    </svg>
  )
}

/** The legend of a plate: five steps in words, and the gaps. */
export function ValueKey({
  words,
  small,
  map,
  children,
}: {
  words: readonly string[]
  small?: boolean
  map?: boolean
  /** What else stands on the plate. */
  children?: ReactNode
}) {
  return (
    <div className="key">
      <b>Above the dry baseline</b>
      {words.map((word, n) => (
        <span key={word}>
          {map ? <RuledSign n={n} /> : <ValueSign n={n} small={small} />}
          {word}
        </span>
      ))}
      <span>
        <Mark kind="unread" />
        {map ? 'not known' : 'not reached'}
      </span>
      {!map && (
        <>
          <span>
            <Mark kind="void" />
            void
          </span>
          <span className="follow">
            <Mark kind="follow" />
            follow up inside
          </span>
        </>
      )}
      {children}
    </div>
  )
}

/** The legend of a change plate. */
export function ChangeKey() {
  const words = {
    up: 'changed, higher',
    down: 'changed, lower',
    none: 'no change shown',
    untold: 'cannot tell',
  } as const
  return (
    <div className="key">
      {(Object.keys(words) as (keyof typeof words)[]).map((kind) => (
        <span key={kind}>
          <Mark kind={kind} />
          {words[kind]}
        </span>
      ))}
    </div>
  )
}
