import { type KeyboardEvent, useEffect, useRef } from 'react'
import { Mark } from '../../figure/marks'
import { visitDay } from '../../model/dates'
import { ashoreWords, standingWord } from '../../model/words'
import { useNarrow } from '../../ui/useWidth'
import { instrumentOf, weather } from './context'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'
import { type SpellLine, TimeRibbon } from './TimeRibbon'

/** Visits that stand beside one another on a wide page; more than these are wound on sideways. */
const abreast = 8
/** The narrowest column in which a date and a standing still stand on one line; on a wide page no column is cut. */
const column = `max(168px, calc(100% / ${abreast}))`

/** Every pass in order of time, under the line of it. Choosing one sets it beside the one the page is held against. */
export function VisitLog({
  passes,
  spells,
  now,
  then,
  onNow,
  onThen,
}: {
  passes: readonly Pass[]
  spells: readonly SpellLine[]
  now: Pass
  then: Pass | null
  onNow: () => void
  onThen: (pass: Pass) => void
}) {
  const list = useRef<HTMLOListElement>(null)
  const winds = useRef<HTMLDivElement>(null)
  const wound = passes.length > abreast
  const phone = useNarrow(700)
  const narrow = useNarrow(1200) ? (phone ? 358 : 760) : null
  // The newest visits are the ones that are asked about, however broad the page turns out; and the one set beside.
  useEffect(() => {
    const box = winds.current
    if (!box || !wound) return
    const watch = new ResizeObserver(() => {
      box.scrollTo({ left: box.scrollWidth })
      const beside = list.current?.querySelector<HTMLElement>(`.${s.then}`)
      const cut = beside ? beside.getBoundingClientRect().left - box.getBoundingClientRect().left : 0
      if (cut < 0) box.scrollBy({ left: cut })
    })
    watch.observe(box)
    return () => watch.disconnect()
  }, [wound])

  function go(event: KeyboardEvent) {
    const buttons = [...(list.current?.querySelectorAll('button') ?? [])]
    const at = buttons.indexOf(event.target as HTMLButtonElement)
    const back = event.key === 'ArrowLeft' || event.key === 'ArrowUp'
    const on = event.key === 'ArrowRight' || event.key === 'ArrowDown'
    const next = event.key === 'Home' ? 0 : event.key === 'End' ? buttons.length - 1 : at + (on ? 1 : back ? -1 : 0)
    if (next === at || !buttons[next]) return
    buttons[next].focus()
    event.preventDefault()
  }

  return (
    <div className={s.winds} ref={winds}>
      <div
        className={s.wound}
        style={{ '--n': passes.length, '--least': wound ? column : '0px' } as React.CSSProperties}
      >
        <TimeRibbon passes={passes} spells={spells} narrow={narrow} marked={[now.id, then?.id]} />
        <ol className={s.visits} ref={list} onKeyDown={go}>
          {passes.map((pass) => {
            const current = pass.id === now.id
            const chosen = pass.id === then?.id
            return (
              <li key={pass.id} className={current ? s.now : chosen ? s.then : undefined}>
                <button
                  type="button"
                  aria-pressed={current || chosen}
                  tabIndex={chosen || (!then && current) ? 0 : -1}
                  onClick={() => (current ? onNow() : onThen(pass))}
                >
                  <span className={s.date}>{visitDay(pass.on, pass)}</span>
                  <span className="said">
                    {!current && pass.standing !== 'reference' && <Mark kind={pass.standing} />}
                    {current ? (pass.state === 'open' ? 'today' : 'this one') : standingWord[pass.standing]}
                  </span>
                  <span className={s.line}>{ashoreWords(pass)}</span>
                  <span className={s.line}>{instrumentOf(pass)}</span>
                  <span className={`${s.line} note`}>{pass.hand || 'hand not stated'}</span>
                  {weather(pass) && <span className={`${s.line} note nowrap`}>{weather(pass)}</span>}
                  {!pass.tellable && <span className={`${s.line} wet`}>not for this client</span>}
                </button>
              </li>
            )
          })}
        </ol>
      </div>
    </div>
  )
}
