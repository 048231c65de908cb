/**
 * A hull described well enough to draw its unrolled skin: domain/figure Spec in Go, with the same rules and
 * the same words where one is broken. Lengths are metres.
 */
export interface Spec {
  kind?: string
  lwl: number
  aft: number
  fore: number
  beam: number
  body: number
  freeboard: [stern: number, lowest: number, stem: number]
  counter?: number
  plan: Curve
  profile: Curve
  section?: number
  chine?: [out: number, down: number]
  keel?: LongKeel
  bilge?: BilgeKeel
  hung?: Hung[]
  cut?: number
}

/** A fullness along the waterline: 1 at `peak`, falling to `aft` and `fore` with powers `pa` and `pf`. */
export interface Curve {
  peak: number
  aft: number
  fore: number
  pa: number
  pf: number
}

export interface LongKeel {
  heel: number
  forefoot: number
  ramp: number
  depth: number
}

export interface BilgeKeel {
  from: number
  to: number
  out: number
  thick: number
  span: number
  name?: string
}

export interface Hung {
  name?: string
  at: [aftRoot: number, foreRoot: number, aftTip: number, foreTip: number]
  span: number
  blade?: boolean
  right?: boolean
}

export interface Problem {
  field: string
  text: string
}

export const length = (s: Spec) => s.aft + s.lwl + s.fore

const maxHung = 8
const maxWords = 60

/** What is wrong with a spec; nothing when it can be drawn. */
export function problems(s: Spec): Problem[] {
  const c = new Check()
  c.between('lwl', s.lwl, 1.5, 60)
  if (c.list.length > 0) return c.list // everything below is measured against it
  c.between('aft', s.aft, 0, s.lwl / 2)
  c.between('fore', s.fore, 0, s.lwl / 2)
  c.between('beam', s.beam, 0.3, s.lwl)
  c.between('body', s.body, 0.03, s.lwl / 2)
  for (const i of [0, 1, 2] as const) c.between(`freeboard[${i}]`, s.freeboard[i], 0.1, 8)
  c.between('counter', s.counter ?? 0, 0, s.freeboard[0])
  c.curve('plan', s.plan)
  c.curve('profile', s.profile)
  section(c, s)
  keels(c, s)
  hung(c, s)
  if (s.cut) c.between('cut', s.cut, 0.15, 10)
  return c.list
}

/** A spec as it comes over the wire, or null where it is missing or cannot be drawn. */
export function read(value: unknown): Spec | null {
  if (typeof value !== 'object' || value === null) return null
  try {
    const s = value as Spec
    return problems(s).length === 0 ? s : null
  } catch {
    return null // a field of another kind
  }
}

function section(c: Check, s: Spec) {
  if (!s.chine) c.between('section', s.section ?? 0, 1, 6)
  else if (s.section) c.say('section', 'stands beside chine: give one of the two')
  else {
    c.between('chine[0]', s.chine[0], 0.2, 1)
    c.between('chine[1]', s.chine[1], 0, 0.9)
  }
}

function keels(c: Check, { keel: k, bilge: b, lwl }: Spec) {
  if (k) {
    c.between('keel.heel', k.heel, 0, lwl)
    c.between('keel.forefoot', k.forefoot, k.heel + 0.2, lwl)
    c.between('keel.ramp', k.ramp, 0.1, lwl)
    c.between('keel.depth', k.depth, 0, lwl / 2)
  }
  if (b) {
    c.between('bilge.from', b.from, 0, lwl)
    c.between('bilge.to', b.to, b.from + 0.1, lwl)
    c.between('bilge.out', b.out, 0.1, 0.95)
    c.between('bilge.thick', b.thick, 0.02, 1)
    c.between('bilge.span', b.span, 0.05, lwl / 2)
    c.words('bilge.name', b.name)
  }
}

function hung(c: Check, { hung: list = [], lwl, aft, fore }: Spec) {
  if (list.length > maxHung) c.say('hung', `has ${list.length} parts; a figure takes ${maxHung}`)
  list.forEach((h, i) => {
    const field = `hung[${i}]`
    c.words(`${field}.name`, h.name)
    c.between(`${field}.span`, h.span, 0.02, lwl / 2)
    c.between(`${field}.at[0]`, h.at[0], -aft - 0.6, lwl)
    c.between(`${field}.at[1]`, h.at[1], h.at[0] + 0.02, lwl + fore)
    c.between(`${field}.at[2]`, h.at[2], -aft - 1, lwl)
    c.between(`${field}.at[3]`, h.at[3], h.at[2] + 0.02, lwl + fore)
  })
}

export class Check {
  readonly list: Problem[] = []

  say(field: string, text: string) {
    this.list.push({ field, text })
  }

  between(field: string, v: number, low: number, high: number) {
    if (typeof v !== 'number' || !Number.isFinite(v)) this.say(field, 'is not a number')
    else if (low > high) this.say(field, 'has no room left by the fields before it')
    else if (v < low || v > high) this.say(field, `is ${short(v)}; give ${short(low)} to ${short(high)}`)
  }

  curve(field: string, v: Curve) {
    this.between(`${field}.peak`, v.peak, 0.05, 0.95)
    this.between(`${field}.aft`, v.aft, 0, 1)
    this.between(`${field}.fore`, v.fore, 0, 1)
    this.between(`${field}.pa`, v.pa, 1, 6)
    this.between(`${field}.pf`, v.pf, 1, 6)
  }

  words(field: string, v = '') {
    if ([...v].length > maxWords) this.say(field, `is longer than ${maxWords} characters`)
    if ([...v].some((c) => c < ' ')) this.say(field, 'holds a line break or control character')
  }
}

const short = (v: number) => String(Number(v.toFixed(2)))
