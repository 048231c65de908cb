/** The few signs that parts of the page themselves need; those of the trade are in figure/marks. */

export function Cross() {
  return (
    <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
      <path d="M2 2l10 10M12 2L2 12" className="s" />
    </svg>
  )
}

export function Glass() {
  return (
    <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
      <circle cx="6" cy="6" r="4.3" className="s" />
      <path d="M9.2 9.2L13 13" className="s" />
    </svg>
  )
}

/** A bar that may not pass: the mark beside a refusal. */
export function Halt() {
  return (
    <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
      <path d="M1 1h12v12H1z" className="f" />
      <path d="M7 3.2v4.600M7 9.400v1.8" stroke="var(--sheet)" strokeWidth="2" />
    </svg>
  )
}

/** One line of ink, for what is merely said. */
export function Dash() {
  return (
    <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
      <path d="M2 4h10M2 7h10M2 10h6" className="s" />
    </svg>
  )
}

/** A pennant on its staff: something is told. Flown where it is new, else furled. */
export function Pennant({ flown }: { flown: boolean }) {
  return (
    <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
      <path d="M3 1v12.500" className="s" />
      <path d="M3 2l9 3-9 3z" className={flown ? 'f' : 's'} />
    </svg>
  )
}

/** The three lights a page is read in: sheet, lamp, sun. */
export function LightSign({ theme }: { theme: 'paper' | 'shed' | 'glare' }) {
  const shape = {
    paper: <path d="M3 1.500h6l2.5 2.500v8.500H3zM9 1.500V4h2.5" className="s" />,
    shed: <path d="M11.8 9A5.5 5.5 0 1 1 5.5 1.7 4.5 4.5 0 0 0 11.8 9z" className="s" />,
    glare: (
      <>
        <circle cx="7" cy="7" r="2.8" className="s" />
        <path
          d="M7 .5v2M7 11.500v2M.5 7h2M11.5 7h2M2.4 2.400l1.4 1.400M10.2 10.200l1.4 1.400M2.4 11.600l1.4-1.400M10.2 3.800l1.4-1.4"
          className="s"
        />
      </>
    ),
  }[theme]
  return (
    <svg className="m" viewBox="0 0 14 14" aria-hidden="true">
      {shape}
    </svg>
  )
}
