/** How long an answer may take that refuses a field, in ms. */
const patience = 10_000

/**
 * After a form was sent and not taken, focus goes to the first field that is wrong: on a phone it may be far above the
 * button, and by keyboard nobody should have to look for it. Once for all forms of a document.
 */
export function goToFaults(page: Document): () => void {
  let stop = () => {}
  function sent({ target }: Event) {
    stop()
    if (!(target instanceof HTMLFormElement)) return
    const form = target
    const look = () => {
      const wrong = form.querySelector<HTMLElement>('[aria-invalid="true"]')
      if (!wrong) return
      stop()
      wrong.focus()
    }
    const watch = new MutationObserver(look)
    watch.observe(form, { subtree: true, childList: true, attributeFilter: ['aria-invalid'] })
    const timers = [setTimeout(look, 50), setTimeout(() => stop(), patience)]
    // Whoever types on has seen it.
    form.addEventListener('input', () => stop(), { once: true })
    stop = () => {
      watch.disconnect()
      timers.forEach(clearTimeout)
    }
  }
  page.addEventListener('submit', sent)
  return () => {
    stop()
    page.removeEventListener('submit', sent)
  }
}
