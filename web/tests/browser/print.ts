import type { Page } from 'playwright-core'

/** A4 less the margins of the sheet, px: what a page of paper is laid out on. */
const paper = { width: 703, height: 1017 }

/** What a page is on paper: what is still a control there, and what is cut off at the sheet's edge. */
export async function onPaper(page: Page): Promise<{ controls: string[]; cut: string[] }> {
  const before = page.viewportSize()
  await page.emulateMedia({ media: 'print' })
  await page.setViewportSize(paper)
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')))
  const found = await page.evaluate(() => {
    const seen = (element: Element) => element.checkVisibility() && element.getBoundingClientRect().width > 1
    const said = (element: Element) => `${element.tagName} ${(element.textContent ?? '').slice(0, 40)}`
    const all = (selector: string) => [...document.querySelectorAll(selector)].filter(seen)
    // A button that is words stays words: it has neither rule nor ground.
    const control = (element: Element) => {
      const { borderTopStyle, backgroundColor, textDecorationLine } = getComputedStyle(element)
      const plain = borderTopStyle === 'none' && textDecorationLine === 'none'
      return !(element.tagName === 'BUTTON' && plain && backgroundColor === 'rgba(0, 0, 0, 0)')
    }
    const right = document.documentElement.clientWidth + 1
    return {
      controls: all('button, input, select, textarea, nav, [role=radiogroup]').filter(control).map(said),
      cut: all('main table, main td, main th, main svg, main p, main li, main h2')
        .filter((element) => !element.closest('.sr') && element.getBoundingClientRect().right > right)
        .map(said),
    }
  })
  await page.emulateMedia({ media: null })
  if (before) await page.setViewportSize(before)
  return found
}

/** The sheets of A4 that a page prints on, and which way each lies. */
export async function sheets(page: Page): Promise<('upright' | 'across')[]> {
  const bytes = await page.pdf({ format: 'A4', preferCSSPageSize: true })
  const boxes = bytes.toString('latin1').matchAll(/\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)/g)
  return [...boxes].map(([, wide, high]) => (Number(wide) < Number(high) ? 'upright' : 'across'))
}
