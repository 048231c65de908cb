/**
 * Ids are made where the thing is made: a kind and a UUIDv7 (RFC 9562 section 5.7), "rdg_0199…", so that a
 * change sent twice is one change. The kinds are those of domain/ref.go.
 */
export type Kind =
  | 'add'
  | 'atn'
  | 'blk'
  | 'chk'
  | 'cmt'
  | 'cnd'
  | 'dcl'
  | 'pfg'
  | 'cpj'
  | 'crs'
  | 'dng'
  | 'dtm'
  | 'elm'
  | 'era'
  | 'eng'
  | 'esr'
  | 'evd'
  | 'evt'
  | 'exa'
  | 'fee'
  | 'fnd'
  | 'gsg'
  | 'gua'
  | 'hld'
  | 'hmk'
  | 'ins'
  | 'inv'
  | 'ivc'
  | 'jdg'
  | 'job'
  | 'key'
  | 'kit'
  | 'lay'
  | 'ltr'
  | 'lve'
  | 'mem'
  | 'mut'
  | 'mve'
  | 'nrd'
  | 'pap'
  | 'pas'
  | 'pay'
  | 'pho'
  | 'plc'
  | 'pln'
  | 'prc'
  | 'prm'
  | 'pmg'
  | 'ptr'
  | 'pty'
  | 'rbd'
  | 'rdg'
  | 'rec'
  | 'rei'
  | 'rep'
  | 'sca'
  | 'sci'
  | 'scl'
  | 'shr'
  | 'sec'
  | 'sht'
  | 'spl'
  | 'sta'
  | 'std'
  | 'tln'
  | 'trm'
  | 'upl'
  | 'vis'
  | 'viv'
  | 'vsl'
  | 'wea'
  | 'win'
  | 'wrd'
  | 'wsh'
  | 'yln'

let last = 0
let step = 0

/** 48 bits of milliseconds, 12 bits that count within one, 62 random: in order on this device. */
export function uuid7(now = Date.now(), random = crypto.getRandomValues(new Uint8Array(8))): string {
  if (now <= last) {
    step += 1
    if (step > 0xfff) {
      last += 1
      step = 0
    }
  } else {
    last = now
    step = random[7] ?? 0
  }
  const time = last.toString(16).padStart(12, '0')
  const middle = step.toString(16).padStart(3, '0')
  const tail = [...random]
    .map((byte, i) => (i === 0 ? (byte & 0x3f) | 0x80 : byte).toString(16).padStart(2, '0'))
    .join('')
  return `${time.slice(0, 8)}-${time.slice(8)}-7${middle}-${tail.slice(0, 4)}-${tail.slice(4)}`
}

const ofHere = new Set<string>()

export function newId(kind: Kind): string {
  const id = `${kind}_${uuid7()}`
  ofHere.add(id)
  return id
}

/** Whether the id was made on this page. */
export const isOfHere = (id: string) => ofHere.has(id)
