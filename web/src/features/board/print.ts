/** A4 lying, with 8 mm of margin, in CSS pixels: 281 × 194 mm. */
const sheet = { width: 1062, height: 720 }

/**
 * Before printing, lays an element out at the width of a sheet and shrinks it until it is one sheet high; afterwards
 * it is as it was. Returns what takes the listeners away again.
 */
export function fitPage(element: HTMLElement): () => void {
  const before = () => {
    element.style.zoom = '1'
    element.style.width = `${sheet.width}px`
    element.dataset.printing = ''
    // Shrunk it may be laid out wider, which takes less height: twice is near enough.
    for (let k = 0; k < 3; k++) {
      const zoom =
        Number(element.style.zoom) * Math.min(1, sheet.height / (element.scrollHeight * Number(element.style.zoom)))
      element.style.zoom = String(zoom)
      element.style.width = `${sheet.width / zoom}px`
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
