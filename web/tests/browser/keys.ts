import type { Page } from 'playwright-core'

/** Types a day into a field of segments of the open sheet, as a hand on the keyboard would. */
export async function day(page: Page, label: string, iso: string) {
  const group = page.getByRole('dialog').getByRole('group', { name: label, exact: true })
  const [y = '', m = '', d = ''] = iso.split('-')
  for (const [part, text] of [
    ['year', y], // the day last: the month that stands there may have no 31st
    ['month', m],
    ['day', d],
  ] as const) {
    await group.getByRole('spinbutton', { name: new RegExp(`^${part}`) }).focus()
    await page.keyboard.type(text)
  }
}
