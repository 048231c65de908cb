/**
 * When a JPEG says it was taken, as its camera's clock showed it: it names no zone, so it comes as it was
 * written, and null where there is none. EXIF 2.3, tag 0x9003 of the Exif directory.
 */
export function takenBy(bytes: ArrayBuffer): Date | null {
  const view = new DataView(bytes)
  if (view.byteLength < 4 || view.getUint16(0) !== 0xffd8) return null
  for (let at = 2; at + 4 <= view.byteLength; ) {
    const marker = view.getUint16(at)
    const size = view.getUint16(at + 2)
    if ((marker & 0xff00) !== 0xff00 || marker === 0xffda || size < 2) return null
    if (marker === 0xffe1 && size > 14 && at + 10 <= view.byteLength && view.getUint32(at + 4) === 0x45786966)
      return original(view, at + 10, at + 2 + size)
    at += 2 + size
  }
  return null
}

function original(view: DataView, start: number, end: number): Date | null {
  if (end > view.byteLength) return null
  const little = view.getUint16(start) === 0x4949
  const within = (at: number, n: number) => at >= start && at + n <= end
  const find = (directory: number, tag: number): number | null => {
    if (!within(directory, 2)) return null
    const entries = view.getUint16(directory, little)
    for (let k = 0; k < entries; k++) {
      const at = directory + 2 + 12 * k
      if (!within(at, 12)) return null
      if (view.getUint16(at, little) === tag) return start + view.getUint32(at + 8, little)
    }
    return null
  }
  if (!within(start, 8)) return null
  const exif = find(start + view.getUint32(start + 4, little), 0x8769)
  const at = exif === null ? null : find(exif, 0x9003)
  if (at === null || !within(at, 19)) return null
  const text = Array.from({ length: 19 }, (_, k) => String.fromCharCode(view.getUint8(at + k))).join('')
  const [, year, month, day, hour, minute, second] = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)$/.exec(text) ?? []
  if (!year) return null
  const taken = new Date(Number(year), Number(month) - 1, Number(day), Number(hour), Number(minute), Number(second))
  return Number.isNaN(taken.getTime()) ? null : taken
}

/**
 * How many seconds a camera's clock is ahead of the phone's, from a photo of the phone's clock: what the camera
 * wrote into it, less what the phone shows on it. The date is the camera's, nearest to the phone's time of day.
 */
export function clockAhead(camera: Date, shown: string): number | null {
  const [, hour, minute, second = '0'] = /^(\d{1,2})[:.](\d\d)(?:[:.](\d\d))?$/.exec(shown.trim()) ?? []
  if (hour === undefined || Number(hour) > 23 || Number(minute) > 59 || Number(second) > 59) return null
  const phone = Number(hour) * 3600 + Number(minute) * 60 + Number(second)
  const clock = camera.getHours() * 3600 + camera.getMinutes() * 60 + camera.getSeconds()
  const apart = clock - phone
  return apart > 43_200 ? apart - 86_400 : apart < -43_200 ? apart + 86_400 : apart
}

/** "1 h 2 min 5 s ahead" */
export function sayAhead(seconds: number): string {
  if (seconds === 0) return 'as the phone'
  const n = Math.abs(seconds)
  const parts = [
    [Math.floor(n / 3600), 'h'],
    [Math.floor((n % 3600) / 60), 'min'],
    [n % 60, 's'],
  ].filter(([x]) => x !== 0)
  return `${parts.map(([x, unit]) => `${x} ${unit}`).join(' ')} ${seconds > 0 ? 'ahead of' : 'behind'} the phone`
}
