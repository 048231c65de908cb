import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ask, launch, open, settle, signIn } from './open'
import { picture } from './picture'

const slow = { timeout: 20_000 }

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** The wet look of Tamsel's open job. */
async function wetLook(context: BrowserContext): Promise<string> {
  const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
    search: 'Tamsel',
  })
  const { vessel } = await ask<{ vessel: { jobs: { id: string; stage: string }[] } }>(context, 'VesselBrief', {
    id: vessels.edges[0]?.node.id,
  })
  const { job } = await ask<{ job: { visits: { id: string; kind: string }[] } }>(context, 'JobPage', {
    id: vessel.jobs.find(({ stage }) => stage === 'visiting')?.id,
  })
  return `/visits/${job.visits.find(({ kind }) => kind === 'wet look')?.id}`
}

describe('photos of a visit', () => {
  it('wait on the device while the store of files is away: the page may be left, and even loaded anew', {
    timeout: 120_000,
  }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    const visit = await wetLook(context)
    await page.goto(visit)
    await settle(page)
    const pictures = page.getByRole('img', { name: 'Photo without a caption' })
    const before = await pictures.count()
    await context.route('**', (route) =>
      route.request().method() === 'PUT' ? route.abort('connectionrefused') : route.fallback(),
    )
    const photo = { mimeType: 'image/jpeg', buffer: await picture(page) }
    await page.getByLabel('Add photos').setInputFiles([
      { name: 'bow.jpg', ...photo },
      { name: 'keel.jpg', ...photo },
    ])
    await page.getByText('2 photos waiting:').waitFor()
    await page.reload()
    await page.getByText('2 photos waiting:').waitFor()
    await page.goto('/today') // they go from wherever in the book their sender is
    await settle(page)
    const sent: string[] = []
    page.on('response', (answer) => answer.request().method() === 'PUT' && answer.ok() && sent.push(answer.url()))
    await context.unroute('**')
    await expect.poll(() => sent.length, { timeout: 60_000 }).toBe(2)
    await page.goto(visit)
    await settle(page)
    await expect.poll(() => pictures.count(), slow).toBe(before + 2) // its pictures come by themselves
    expect(await page.getByText('waiting:').count()).toBe(0)
    await page.reload()
    await settle(page)
    expect(await pictures.count()).toBe(before + 2) // once, however often it was tried
    expect(faults).toEqual([])
    await context.close()
  })

  it('keep a HEIC as it came, with the time that it says of itself', { timeout: 60_000 }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    await page.goto(await wetLook(context))
    await settle(page)
    const file = new URL('../../../testdata/photo/weep.heic', import.meta.url)
    await page
      .getByLabel('Add photos')
      .setInputFiles([{ name: 'IMG_0001.HEIC', mimeType: '', buffer: readFileSync(file) }])
    await page.getByText('kept as it came, but this browser cannot open HEIC', { exact: false }).waitFor()
    const card = page.locator('main li', { hasText: 'kept as it came, without a picture' }).first()
    await card.getByText('14 Oct 2026', { exact: false }).waitFor()
    // The clock of a camera's card says what it does not understand.
    await page.getByText('set its clock right first', { exact: false }).click()
    await page
      .getByLabel('Photo of the phone’s clock')
      .setInputFiles([{ name: 'clock.jpg', mimeType: 'image/jpeg', buffer: await picture(page) }])
    await page.getByText('This photo does not say when it was taken.').waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('what a visit found', () => {
  it('is written down on a phone: a finding at its places, a window, a photo at its place', {
    timeout: 180_000,
  }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
      search: 'Tamsel',
    })
    const { vessel } = await ask<{ vessel: { jobs: { id: string; stage: string }[] } }>(context, 'VesselBrief', {
      id: vessels.edges[0]?.node.id,
    })
    const job = vessel.jobs.find(({ stage }) => stage === 'visiting')?.id ?? ''
    const book = await ask<{ job: { visits: { id: string; kind: string }[] } }>(context, 'JobPage', { id: job })
    const visit = book.job.visits.find(({ kind }) => kind === 'wet look')?.id
    await page.goto(`/visits/${visit}`)
    await settle(page)

    await page.getByRole('button', { name: 'Write down a finding' }).click()
    await page.getByLabel('What it is').selectOption('weep')
    await page.getByLabel('Liquid').selectOption('brown')
    await page.getByLabel('At places').fill('starboard 99/9')
    await page.getByLabel('In your own words').fill('A brown streak below the heads inlet.')
    await page.getByRole('button', { name: 'Write down', exact: true }).click()
    await page.getByText('There is no place starboard 99/9 on this boat.').waitFor()
    await page.getByLabel('At places').fill('starboard 9/3')
    await page.getByRole('button', { name: 'Write down', exact: true }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    await page.locator('main article', { hasText: 'A brown streak below the heads inlet.' }).first().waitFor()

    // Blisters in an area of known size: the class is derived, nobody types one.
    await page.getByRole('button', { name: 'Write down a finding' }).click()
    await page.getByLabel('What it is').selectOption('blisters')
    await page.getByLabel('Width of the area').fill('100')
    await page.getByLabel('Height of the area').fill('100')
    await page.getByLabel('Diameters').fill('4 3,5 900')
    await page.getByLabel('Blisters in it').fill('7')
    await page.getByRole('button', { name: 'Write down', exact: true }).click()
    await page.getByText('Between 0.1 and 500 mm.').waitFor()
    await expect
      .poll(() => page.getByLabel('Diameters').evaluate((field) => field === document.activeElement))
      .toBe(true)
    await page.getByLabel('Diameters').fill('4 3,5 4')
    await page.getByLabel('Or inside an outline').fill('port 4.5 0.6; 5 0.6; 5 0.9')
    await page.getByRole('button', { name: 'Write down', exact: true }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    const card = page.locator('main article', { hasText: 'port, 4.5 to 5 m forward, 0.6 to 0.9 m down' }).first()
    await card.getByText('ISO 4628-2 3(S4), about ASTM D714 4', { exact: false }).waitFor()
    await card.getByText('700 to the square metre', { exact: false }).waitFor()

    await page.getByRole('button', { name: 'Note a window' }).click()
    await page.getByLabel('Forward of the aft perpendicular').fill('4500')
    await page.getByLabel('Down the skin below the waterline mark').fill('750')
    await page.getByRole('button', { name: 'Write down', exact: true }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    await page
      .locator('main tr', { hasText: /port 4\.5/ })
      .first()
      .waitFor()

    const before = await page.getByRole('img', { name: 'Photo without a caption' }).count()
    await page.getByLabel('Add photos').setInputFiles([
      { name: 'weep.jpg', mimeType: 'image/jpeg', buffer: await picture(page) },
      { name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no photo') },
    ])
    await page.getByText('notes.txt: no photo that can be kept', { exact: false }).waitFor()

    // The store of files is away, then refuses for a passing reason, then is back: nobody presses anything.
    let tries = 0
    await page.route('**', (route) => {
      if (route.request().method() !== 'PUT' || ++tries > 2) return route.fallback()
      return tries === 1 ? route.abort('connectionrefused') : route.fulfill({ status: 503, body: 'slow down' })
    })
    await page
      .getByLabel('Add photos')
      .setInputFiles([{ name: 'stern.jpg', mimeType: 'image/jpeg', buffer: await picture(page) }])
    await page.getByText('1 photo waiting:').waitFor()
    await expect.poll(() => tries, { timeout: 60_000 }).toBe(3)
    await page.getByText('still to be sent').waitFor({ state: 'hidden' })
    expect(await page.getByText('photo waiting:').count()).toBe(0)
    await page.unroute('**')
    await expect
      .poll(async () => {
        await page.reload()
        await settle(page)
        return page.getByRole('img', { name: 'Photo without a caption' }).count()
      }, slow)
      .toBe(before + 2)
    await page
      .getByRole('button', { name: /no caption/ })
      .last()
      .click()
    // Drawn over by hand: each end lies where it was tapped, in thousandths of the picture's own sides.
    const shown = await page.getByRole('dialog').getByRole('img').first().boundingBox()
    if (!shown) throw new Error('the photo is not shown')
    const touch = (x: number, y: number) =>
      page.touchscreen.tap(shown.x + 1 + x * (shown.width - 2), shown.y + 1 + y * (shown.height - 2))
    await touch(0.25, 0.9)
    await page.getByText('Now tap what it points at.', { exact: false }).waitFor()
    await touch(0.5, 0.4)
    const drawn = page.getByText(/^Arrow from \d/)
    const at = ((await drawn.textContent()) ?? '').match(/\d+/g)?.map(Number) ?? []
    for (const [k, want] of [250, 900, 500, 400].entries()) expect(Math.abs((at[k] ?? 0) - want)).toBeLessThan(5)
    await page.getByRole('button', { name: 'Take off arrow 1' }).click()
    // And by keyboard: a layer, the picture stays as taken.
    await page.getByText('By figures').click()
    for (const [label, value] of [
      ['From the left', '20'],
      ['From the top', '20'],
      ['To, from the left', '48'],
      ['To, from the top', '50'],
    ] as const)
      await page.getByLabel(label, { exact: true }).fill(value)
    await page.getByRole('button', { name: 'Draw it' }).click()
    await page.getByText('Arrow from 200, 200 to 480, 500').waitFor()
    await page.getByRole('radio', { name: 'Words' }).click()
    await page.getByText('Write the words, then tap where they begin.', { exact: false }).waitFor()
    // The place is typed: the same view of last time stands beside it before anything is kept.
    await page.getByLabel('At place', { exact: true }).fill('port 6/2')
    await page.getByText('The same place before, 3 Dec 2023.', { exact: false }).waitFor()
    await page.getByLabel('Caption', { exact: true }).fill('Weep below the heads inlet')
    await page.getByLabel('At place', { exact: true }).fill('starboard 9/3')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    await page.locator('main li', { hasText: 'Weep below the heads inlet' }).first().waitFor()

    // It stands in the draft of the job's report, with its place.
    const { reports } = await ask<{ reports: { edges: { node: { id: string; state: string; jobNumber: string } }[] } }>(
      context,
      'ReportsPage',
    )
    const drafts = reports.edges.filter(({ node }) => node.state === 'draft').map(({ node }) => node.id)
    const said: string[] = []
    for (const id of drafts) {
      await page.goto(`/reports/${id}`)
      await settle(page)
      await page.getByText('Read it', { exact: true }).click()
      await page.getByRole('region', { name: 'The draft as it would be printed' }).waitFor()
      said.push((await page.locator('main').textContent()) ?? '')
    }
    expect(said.filter((text) => text.includes('Weep below the heads inlet · place starboard 9/3'))).not.toHaveLength(0)
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('a whole-boat survey', () => {
  it('is worked through on a phone, with a reason where an item was not reached; its value and notes stand beside', {
    timeout: 120_000,
  }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
      search: 'Tamsel',
    })
    const { vessel } = await ask<{ vessel: { jobs: { id: string; stage: string }[] } }>(context, 'VesselBrief', {
      id: vessels.edges[0]?.node.id,
    })
    await page.goto(`/jobs/${vessel.jobs.find(({ stage }) => stage === 'visiting')?.id}/survey`)
    await settle(page)
    const item = (name: string) => page.getByRole('radiogroup', { name: `${name}, examined` })
    await item('Fire extinguishers').getByRole('radio', { name: 'Examined', exact: true }).click()
    await item('Fire extinguishers').getByRole('radio', { name: 'Examined', exact: true, checked: true }).waitFor()
    await item('Liferaft and flares').getByRole('radio', { name: 'Not', exact: true }).click()
    await page.getByLabel('Why not', { exact: true }).fill('')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByText('Say why: it stands under the limits of the report.').waitFor()
    await page.getByLabel('Why not', { exact: true }).fill('locked away')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    await item('Liferaft and flares').getByRole('radio', { name: 'Not', exact: true, checked: true }).waitFor()
    await page.locator('li', { hasText: 'Liferaft and flares' }).getByText('locked away').waitFor()
    // A photo is taken where the item is worked through, and chosen there.
    await page.getByRole('button', { name: /: Steering$/ }).click()
    await page.getByText('Take a photo of it').click()
    await page
      .getByLabel('Add photos')
      .setInputFiles([{ name: 'steering.jpg', mimeType: 'image/jpeg', buffer: await picture(page) }])
    const photos = page.getByLabel('Photo', { exact: true }).locator('option', { hasText: 'no caption' })
    const had = await photos.count()
    await expect.poll(() => photos.count(), slow).toBeGreaterThan(had)
    await page.getByLabel('Photo', { exact: true }).selectOption({ index: had + 1 })
    await page.getByLabel('Condition').fill('free from stop to stop')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByRole('dialog').waitFor({ state: 'hidden' })
    await page.locator('li', { hasText: 'free from stop to stop · a photo' }).waitFor()

    // What was said an hour ago says so, and when it was written down.
    await page.getByLabel('With whom').fill('the owner')
    const raft = `The raft is at the loft, ${Date.now()}.`
    await page.getByLabel('What was said').fill(raft)
    await page.getByLabel('At what time').fill('25:00')
    await page.getByRole('button', { name: 'Write it down', exact: true }).click()
    await page.getByText('The time of day, such as 14:05.').waitFor()
    await page.getByLabel('At what time').fill('0.00')
    await page.getByRole('button', { name: 'Write it down', exact: true }).click()
    await page
      .locator('main li', { hasText: raft })
      .getByText(/, 00:00 · call with the owner/)
      .waitFor()

    await page.getByRole('button', { name: /^(Write down a|Change the) value/ }).click()
    await page.getByLabel('Figure').fill('18 500,50')
    await page.getByLabel('Basis').fill('sale between willing parties, as she lies')
    await page.getByLabel('Comparables').fill('a sister of 1981')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByText('“a sister of 1981” lacks its price', { exact: false }).waitFor()
    await page.getByLabel('Comparables').fill('a sister of 1981: 17 900 EUR, sold in May')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByText('€18,500.50').waitFor()
    await page.getByText('An opinion of value on that day.', { exact: false }).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('a report that was issued', () => {
  it('is known again by its bytes, and one byte more is not', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    const { reports } = await ask<{ reports: { edges: { node: { id: string; state: string; number: string } }[] } }>(
      context,
      'ReportsPage',
    )
    const issued = reports.edges.map(({ node }) => node).find(({ state }) => state === 'issued')
    const answer = await context.request.get(`/reports/${issued?.id}/report.pdf`)
    const pdf = await answer.body()
    await page.goto('/as-issued')
    const choose = (name: string, buffer: Buffer) =>
      page.locator('input[type=file]').setInputFiles({ name, mimeType: 'application/pdf', buffer })
    await choose('same.pdf', pdf)
    await page.getByText('is as it was issued, byte for byte').waitFor()
    expect(await page.getByText(issued?.number ?? 'none', { exact: true }).count()).toBe(1)
    await choose('changed.pdf', Buffer.concat([pdf, Buffer.from('\n')]))
    await page.getByText('changed.pdf is not a report as it was issued here', { exact: false }).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})
