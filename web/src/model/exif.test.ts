import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { clockAhead, sayAhead, takenBy } from './exif'

/** A JPEG head with one EXIF directory that holds a time, after EXIF 2.3: written here byte by byte. */
function jpeg(text: string, little = true): ArrayBuffer {
  const bytes = new Uint8Array(120)
  const view = new DataView(bytes.buffer)
  view.setUint16(0, 0xffd8)
  view.setUint16(2, 0xffe1)
  view.setUint16(4, 112)
  view.setUint32(6, 0x45786966)
  const start = 12
  const u16 = (at: number, x: number) => view.setUint16(start + at, x, little)
  const u32 = (at: number, x: number) => view.setUint32(start + at, x, little)
  view.setUint16(start, little ? 0x4949 : 0x4d4d)
  u16(2, 42)
  u32(4, 8)
  u16(8, 1)
  u16(10, 0x8769)
  u16(12, 4)
  u32(14, 1)
  u32(18, 26)
  u16(26, 1)
  u16(28, 0x9003)
  u16(30, 2)
  u32(32, 20)
  u32(36, 44)
  for (const [k, letter] of [...text].entries()) bytes[start + 44 + k] = letter.charCodeAt(0)
  return bytes.buffer
}

describe('when a photo says it was taken', () => {
  it.each([true, false])('is read in either order of bytes (%s)', (little) => {
    expect(takenBy(jpeg('2026:10:14 09:31:05', little))).toEqual(new Date(2026, 9, 14, 9, 31, 5))
  })
  it('is read from a HEIC, which keeps it in an item of its own', () => {
    const file = new Uint8Array(readFileSync(new URL('../../../testdata/photo/weep.heic', import.meta.url)))
    expect(takenBy(file.slice().buffer)).toEqual(new Date(2026, 9, 14, 9, 31, 5))
    for (let n = 0; n < file.length; n++) expect(takenBy(file.slice(0, n).buffer)).toBeNull()
    // No byte that is wrong makes it fail or read beyond the file.
    for (let at = 0; at < file.length; at++) {
      const torn = file.slice()
      torn[at] = 255 - (torn[at] ?? 0)
      expect(() => takenBy(torn.buffer)).not.toThrow()
    }
  })
  it('is null where it says nothing, and no byte beyond the file is looked at', () => {
    expect(takenBy(new ArrayBuffer(0))).toBeNull()
    expect(takenBy(jpeg('    :  :     :  :  '))).toBeNull()
    const whole = new Uint8Array(jpeg('2026:10:14 09:31:05'))
    for (let n = 0; n < whole.length; n++) expect(() => takenBy(whole.slice(0, n).buffer)).not.toThrow()
  })
})

it('tells how far the camera’s clock is ahead of the one it photographed', () => {
  const at = (h: number, m: number, s: number) => new Date(2026, 9, 14, h, m, s)
  expect(clockAhead(at(9, 31, 5), '9:30')).toBe(65)
  expect(clockAhead(at(9, 31, 5), '09:31:35')).toBe(-30)
  expect(clockAhead(at(0, 1, 0), '23:59')).toBe(120)
  expect(clockAhead(at(9, 0, 0), '25:00')).toBeNull()
  expect(sayAhead(3725)).toBe('1 h 2 min 5 s ahead of the phone')
  expect(sayAhead(-30)).toBe('30 s behind the phone')
  expect(sayAhead(0)).toBe('as the phone')
})
