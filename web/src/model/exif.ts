/**
 * When a JPEG or a HEIC says it was taken, as its camera's clock showed it: it names no zone, so it comes as it was
 * written, and null where there is none. EXIF 2.3, tag 0x9003 of the Exif directory.
 */
export function takenBy(bytes: ArrayBuffer): Date | null {
  const view = new DataView(bytes)
  if (view.byteLength >= 12 && word(view, 4) === 'ftyp') return inItem(view)
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

const word = (view: DataView, at: number) => String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)))

interface Box {
  kind: string
  /** Where its content begins and ends. */
  from: number
  to: number
}

/** The boxes that lie side by side between two bytes: ISO/IEC 14496-12, 4.2. One of 64 bits' size ends the walk. */
function boxes(view: DataView, from: number, to: number): Box[] {
  const found: Box[] = []
  for (let at = from; at + 8 <= to; ) {
    const size = view.getUint32(at)
    if (size < 8 || at + size > to) break
    found.push({ kind: word(view, at + 4), from: at + 8, to: at + size })
    at += size
  }
  return found
}

/**
 * The time in a HEIC's item of type Exif: 'meta' lists the items in 'iinf' and says in 'iloc' where each lies
 * (ISO/IEC 14496-12, 8.11; the item begins with an offset to its TIFF head: ISO/IEC 23008-12, A.2.1).
 */
function inItem(view: DataView): Date | null {
  try {
    const meta = boxes(view, 0, view.byteLength).find(({ kind }) => kind === 'meta')
    const within = meta ? boxes(view, meta.from + 4, meta.to) : []
    const [iinf, iloc] = ['iinf', 'iloc'].map((kind) => within.find((box) => box.kind === kind))
    if (!iinf || !iloc) return null
    const exif = boxes(view, iinf.from + (view.getUint8(iinf.from) === 0 ? 6 : 8), iinf.to)
      .filter(({ kind }) => kind === 'infe')
      .map(({ from }) => {
        const wide = view.getUint8(from) >= 3 ? 2 : 0 // the item's number is of 32 bits from version 3
        return { id: wide ? view.getUint32(from + 4) : view.getUint16(from + 4), type: word(view, from + 8 + wide) }
      })
      .find(({ type }) => type === 'Exif')
    const place = exif && placed(view, iloc, exif.id)
    if (!place) return null
    const head = place.from + 4 + view.getUint32(place.from)
    return original(view, head, place.to)
  } catch (fault) {
    if (fault instanceof RangeError) return null // it says more than it holds
    throw fault
  }
}

/** Where an item of one extent lies in the file; null where it lies elsewhere or in pieces. */
function placed(view: DataView, iloc: Box, id: number): { from: number; to: number } | null {
  const version = view.getUint8(iloc.from)
  const sizes = view.getUint16(iloc.from + 4)
  const [offsets, lengths, base, index] = [sizes >> 12, (sizes >> 8) & 15, (sizes >> 4) & 15, sizes & 15]
  let at = iloc.from + 6
  const take = (bytes: number): number => {
    at += bytes
    let value = 0
    for (let k = at - bytes; k < at; k++) value = 256 * value + view.getUint8(k)
    return value
  }
  for (let left = take(version < 2 ? 2 : 4); left > 0; left--) {
    const item = take(version < 2 ? 2 : 4)
    const method = version > 0 ? take(2) & 15 : 0
    take(2) // which file: 0 is this one, and there is no other
    const start = take(base)
    const extents = take(2)
    let place: { from: number; to: number } | null = null
    for (let k = 0; k < extents; k++) {
      if (version > 0) take(index)
      const from = start + take(offsets)
      place = { from, to: from + take(lengths) }
    }
    if (item === id) return extents === 1 && method === 0 ? place : null
  }
  return null
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
