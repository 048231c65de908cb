/** A4 lying, with 8 mm of margin, in CSS pixels: 281 × 194 mm, less the head of the page and the line at its foot. */
const sheet = { width: 1062, height: 733 - 120 }

/**
 * Before printing, lays an element out at the width of a sheet and shrinks it until it is one sheet high; afterwards
 * it is as it was. Returns what takes the listeners away again.
 */
export function fitPage(element: HTMLElement): () => void {
  const before = () => {
    element.dataset.printing = ''
    // Shrunk it is laid out wider, which takes less height: by twentieths until it fits.
    for (let zoom = 1; zoom > 0.3; zoom -= 0.05) {
      element.style.width = `${sheet.width / zoom}px`
      element.style.zoom = String(zoom)
      if (element.scrollHeight * zoom <= sheet.height) return
    }
  }
  const after = () => {
    element.style.removeProperty('zoom')
    element.style.removeProperty('width')
    delete element.dataset.printing
  }
  window.addEventListener('beforeprint', before)
  window.addEventListener('afterprint', after)
  return () => {
    window.removeEventListener('beforeprint', before)
    window.removeEventListener('afterprint', after)
  }
}
