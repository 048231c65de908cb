/** A4 lying, with 8 mm of margin, in CSS pixels: 281 × 194 mm, less the line at its foot and what stands above the lanes. */
const sheet = { width: 1062, height: 733 - 30, first: 90, next: 34 }

/** 7 pt in CSS pixels: nothing on paper is smaller. */
const least = (7 * 96) / 72

/** Corner and seven days stand over the lanes. */
const heads = 8

/**
 * Before printing, lays the lanes out at the width of a sheet and shrinks them until they are one sheet high, but
 * never so far that a word falls under 7 pt: what does not fit then goes on a second sheet under the same heads.
 * Afterwards all is as it was. Returns what takes the listeners away again.
 */
export function fitPage(element: HTMLElement): () => void {
  let copies: HTMLElement[] = []
  const before = () => {
    element.dataset.printing = ''
    const floor = Math.min(1, least / smallest(element))
    // Shrunk it is laid out wider, which takes less height.
    for (let zoom = 1; ; zoom = Math.max(floor, zoom - 0.03)) {
      element.style.width = `${sheet.width / zoom}px`
      element.style.zoom = String(zoom)
      if (element.scrollHeight * zoom <= sheet.height - sheet.first) return
      if (zoom <= floor) break
    }
    const board = element.firstElementChild
    if (board instanceof HTMLElement && board.children.length > heads) copies = onSheets(element, board, floor)
  }
  const after = () => {
    for (const copy of copies) copy.remove()
    copies = []
    element.style.removeProperty('zoom')
    element.style.removeProperty('width')
    delete element.dataset.printing
    delete element.dataset.sheets
  }
  window.addEventListener('beforeprint', before)
  window.addEventListener('afterprint', after)
  return () => {
    window.removeEventListener('beforeprint', before)
    window.removeEventListener('afterprint', after)
  }
}

/** The smallest letters that are printed within an element, in CSS pixels. */
function smallest(element: HTMLElement): number {
  let size = 16
  for (const one of element.querySelectorAll<HTMLElement>('*'))
    if (one.offsetParent && !one.closest('button, .sr') && [...one.childNodes].some(holdsWords))
      size = Math.min(size, Number.parseFloat(getComputedStyle(one).fontSize))
  return size
}

const holdsWords = (node: Node) => node.nodeType === Node.TEXT_NODE && Boolean(node.textContent?.trim())

/** Copies of the board, one a sheet, each with the heads of the days and as many lanes as it holds. */
function onSheets(element: HTMLElement, board: HTMLElement, zoom: number): HTMLElement[] {
  const all = [...board.children] as HTMLElement[]
  const head = all.slice(0, heads)
  const headHeight = Math.max(...head.map(({ offsetHeight }) => offsetHeight))
  const room = (first: boolean) => (sheet.height - (first ? sheet.first : sheet.next)) / zoom - headHeight
  const sheets: HTMLElement[][] = [[]]
  let used = 0
  for (const lane of all.slice(heads)) {
    const on = sheets[sheets.length - 1] as HTMLElement[]
    if (used + lane.offsetHeight > room(sheets.length === 1) && on.length > 0) {
      // A part's name goes with its first lane.
      const name = on.at(-1)?.tagName === 'H2' ? on.splice(-1) : []
      sheets.push([...name, lane])
      used = lane.offsetHeight + name.reduce((sum, { offsetHeight }) => sum + offsetHeight, 0)
      continue
    }
    on.push(lane)
    used += lane.offsetHeight
  }
  const title = document.querySelector('.running h1')?.textContent ?? ''
  const copies = sheets.map((lanes, k) => {
    const copy = document.createElement('div')
    copy.dataset.sheet = ''
    const caption = document.createElement('p')
    caption.textContent = `${title}, sheet ${k + 1} of ${sheets.length}`
    const grid = board.cloneNode(false) as HTMLElement
    grid.append(...[...head, ...lanes].map((one) => one.cloneNode(true)))
    copy.append(caption, grid)
    return copy
  })
  element.dataset.sheets = ''
  element.append(...copies)
  return copies
}
