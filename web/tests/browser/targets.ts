import type { Page } from 'playwright-core'
import { sizes } from './open'

/** As high as a thumb asks, px; a border may take one from what stands in a cell. */
const least = 43

/** What a phone’s page has to be pressed by itself that is lower than a thumb asks. Words within a sentence are as high as its line. */
export async function lowTargets(page: Page): Promise<string[]> {
  if (page.viewportSize()?.width !== sizes.phone.width) return []
  return page.evaluate((least) => {
    const height = (element: Element | null | undefined) => element?.getBoundingClientRect().height ?? 0
    const text = (element: Element | null | undefined) => (element?.textContent ?? '').trim()
    const inSentence = (element: Element) => {
      const block = element.parentElement?.closest('p, li, td, th, dd, dt, div, h1, h2, h3, section, figcaption, label')
      const inLine = getComputedStyle(element).display === 'inline' || element.matches('.words')
      return inLine && text(block).length > text(element).length
    }
    return [...document.querySelectorAll('a[href], button, input, select, textarea, summary')]
      .filter((one) => one.checkVisibility() && one.getBoundingClientRect().width > 1)
      .filter((one) => !one.closest('svg, [aria-hidden=true], .sr') && !inSentence(one))
      .filter((one) => [one, one.closest('label'), one.closest('.line')].every((each) => height(each) < least))
      .map((one) => `${one.tagName.toLowerCase()} “${text(one).slice(0, 40)}” is ${Math.round(height(one))} px high`)
  }, least)
}
