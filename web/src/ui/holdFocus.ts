/** What can take the focus, in the order of the Tab key. */
const controls =
  'a[href], button:enabled, input:enabled, select:enabled, textarea:enabled, summary, [tabindex="0"], [contenteditable=true]'

/**
 * Holds the focus in a sheet when the control that had it goes or is shut for a while: a page without focus hears no
 * Escape, and the Tab key would begin outside. The same control takes it again once it may, else what now stands in
 * its place, else the sheet, which says its title.
 */
export function holdFocus(sheet: HTMLElement): () => void {
  let had: HTMLElement | null = null
  let at = 0
  let parked = false
  const order = () => [...sheet.querySelectorAll<HTMLElement>(controls)].filter((one) => one.checkVisibility())

  function note({ target }: FocusEvent) {
    if (!(target instanceof HTMLElement) || (target === sheet && parked)) return
    had = target === sheet ? null : target // a hand that pressed beside the controls lets go of them
    at = order().indexOf(target)
  }
  function hold() {
    const lost = document.activeElement === document.body || (parked && document.activeElement === sheet)
    if (!had || !lost) return
    parked = had.isConnected && had.matches(':disabled') // shut while something is on its way
    const next = had.isConnected ? had : (order()[at] ?? order().at(-1))
    if (parked || !next) sheet.focus()
    else next.focus()
  }

  const watch = new MutationObserver(() => requestAnimationFrame(() => setTimeout(hold)))
  watch.observe(sheet, { subtree: true, childList: true, attributeFilter: ['disabled'] })
  sheet.addEventListener('focusin', note)
  return () => {
    watch.disconnect()
    sheet.removeEventListener('focusin', note)
  }
}
