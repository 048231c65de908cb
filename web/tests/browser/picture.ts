import type { Page } from 'playwright-core'

/** A picture drawn in the page, as a file that a phone would hand over. */
export async function picture(page: Page): Promise<Buffer> {
  const url = await page.evaluate(() => {
    const canvas = document.createElement('canvas')
    canvas.width = 640
    canvas.height = 480
    const pen = canvas.getContext('2d')
    if (pen) {
      pen.fillStyle = '#d8cbb0'
      pen.fillRect(0, 0, 640, 480)
      pen.fillStyle = '#7a4b2a'
      pen.fillRect(300, 120, 26, 260)
    }
    return canvas.toDataURL('image/jpeg', 0.9)
  })
  return Buffer.from(url.split(',')[1] ?? '', 'base64')
}
