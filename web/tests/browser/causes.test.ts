import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ask, launch, open, settle, signIn } from './open'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const tamsel = async (context: Parameters<typeof ask>[0]) => {
  const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
    search: 'Tamsel',
  })
  return vessels.edges[0]?.node.id ?? ''
}

describe('the ledger of causes', { timeout: 200_000 }, () => {
  it('is gone on with by keyboard: a check made and taken back, a word of one’s own', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    await page.goto(`/vessels/${await tamsel(context)}/causes`)
    await settle(page)
    const large = page.getByRole('region', { name: 'The hull at large' })
    await expect.poll(() => large.getByRole('row').count()).toBeGreaterThan(1)
    expect(await large.textContent()).toContain('ordinary absorption')

    const say = large.getByRole('button', { name: /Say what came of it/ }).first()
    const what = ((await say.textContent()) ?? '').split(': ')[1] ?? ''
    await say.focus()
    await page.keyboard.press('Enter')
    const dialog = page.getByRole('dialog')
    await dialog.getByRole('radio').first().focus()
    await page.keyboard.press('Space')
    const outcome = await dialog.locator('label:has(input:checked)').textContent()
    const note = `by the browser, ${Date.now()}`
    await dialog.getByLabel('Note').fill(note)
    await page.keyboard.press('Tab')
    await page.keyboard.press('Enter')
    await dialog.waitFor({ state: 'detached' })

    const made = page.getByRole('region', { name: 'Checks made' })
    const row = made.getByRole('row').filter({ hasText: note })
    await row.waitFor()
    expect(await row.textContent()).toContain(outcome)
    await expect.poll(() => large.getByRole('button', { name: `Say what came of it: ${what}` }).count()).toBe(0)

    await row.getByRole('button', { name: /Take back/ }).focus()
    await page.keyboard.press('Enter')
    await page.getByRole('dialog').getByLabel('Because').fill('only a trial')
    await page.keyboard.press('Enter')
    await row.getByText('only a trial').waitFor()

    await large.getByRole('button', { name: /Agree, disagree or add/ }).focus()
    await page.keyboard.press('Enter')
    await page.getByRole('dialog').getByLabel('Because').fill(note)
    await page.getByRole('dialog').getByRole('button', { name: 'Keep it' }).focus()
    await page.keyboard.press('Enter')
    await large.getByText(note).waitFor()

    // To disagree, and to add a cause that no line names: both stand with their name and reason.
    for (const [word, says] of [
      ['Disagree', 'disagrees'],
      ['Add a cause', 'adds'],
    ] as const) {
      await large.getByRole('button', { name: /Agree, disagree or add/ }).press('Enter')
      const sheet = page.getByRole('dialog')
      await sheet.getByRole('radio', { name: word }).press('Space')
      const own = `rain through the shed’s roof, ${Date.now()}`
      if (says === 'adds') {
        await sheet.getByRole('button', { name: 'Keep it' }).press('Enter')
        await expect.poll(() => sheet.getByRole('alert').count()).toBe(2)
        await sheet.getByLabel('Cause', { exact: true }).fill(own)
      }
      const because = `${says}, ${Date.now()}`
      await sheet.getByLabel('Because').fill(because)
      await sheet.getByRole('button', { name: 'Keep it' }).press('Enter')
      await sheet.waitFor({ state: 'detached' })
      await large.getByText(because).waitFor()
      const who = says === 'adds' ? `${own} · S\\. Maddern` : `S\\. Maddern ${says}`
      expect(await large.textContent()).toMatch(new RegExp(`${who}[^]*${because}`))
    }
    expect(faults).toEqual([])
    await context.close()
  })

  it('prints whole, without what only a screen can do', async () => {
    const { context, page } = await open(browser)
    await signIn(page, 'surveyor')
    await page.goto(`/vessels/${await tamsel(context)}/causes`)
    await settle(page)
    await page.emulateMedia({ media: 'print' })
    expect(
      await page
        .getByRole('button', { name: /Say what came of it/ })
        .first()
        .isVisible(),
    ).toBe(false)
    expect(await page.getByRole('navigation', { name: 'Matters' }).isVisible()).toBe(false)
    expect(await page.getByRole('heading', { name: 'The hull at large' }).isVisible()).toBe(true)
    await context.close()
  })

  it('shows an office what stands there and lets it change nothing', async () => {
    const { context, page } = await open(browser)
    await signIn(page, 'office')
    await page.goto(`/vessels/${await tamsel(context)}/causes`)
    await settle(page)
    await page.getByRole('heading', { name: 'The hull at large' }).waitFor()
    expect(await page.getByRole('button', { name: /Say what came of it|Agree, disagree/ }).count()).toBe(0)
    await context.close()
  })
})
