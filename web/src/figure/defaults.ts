import { Check, type Curve, type Problem, problems, type Spec } from './spec'

/** The kinds of hull that a figure can be made of from four numbers, and their words. */
export const kinds = {
  finKeelSloop: 'fin-keel yacht',
  longKeel: 'long-keel yacht',
  bilgeKeel: 'bilge-keel yacht',
  liftingKeel: 'lifting-keel yacht',
  chineMotorBoat: 'hard-chine motor boat',
  displacementMotorBoat: 'displacement motor boat',
  openBoat: 'open boat',
} as const
export type Kind = keyof typeof kinds

/** The numbers that are on every boat's papers, m. Without a waterline length, a usual share of LOA. */
export interface Dims {
  loa: number
  beam: number
  draught: number
  lwl?: number
}

/** A fair figure to start from, or what is wrong with the numbers: domain/figure Default in Go. */
export function fromDims(kind: string, d: Dims): { spec: Spec; problems: [] } | { spec: null; problems: Problem[] } {
  const make = makers[kind as Kind]
  if (!make)
    return {
      spec: null,
      problems: [{ field: 'kind', text: `"${kind}" is not known; give one of ${Object.keys(kinds).join(', ')}` }],
    }
  const c = new Check()
  c.between('loa', d.loa, 2, 50)
  if (c.list.length === 0) {
    c.between('beam', d.beam, 0.12 * d.loa, 0.6 * d.loa)
    c.between('draught', d.draught, 0.1, 0.4 * d.loa)
    if (d.lwl) c.between('lwl', d.lwl, 0.6 * d.loa, d.loa)
  }
  if (c.list.length > 0) return { spec: null, problems: c.list }
  const spec = tidy({ kind, ...make(d) })
  const wrong = problems(spec)
  return wrong.length > 0 ? { spec: null, problems: wrong } : { spec, problems: [] }
}

/** Splits what LOA has over the waterline: `aftShare` of it aft, the rest before. */
function ends(d: Dims, lwlShare: number, aftShare: number) {
  const lwl = d.lwl || lwlShare * d.loa
  const over = d.loa - lwl
  return { lwl, aft: aftShare * over, fore: (1 - aftShare) * over }
}

/** Grows slowly with length: stern and stem as multiples of the lowest. */
function freeboard(d: Dims, stern: number, stem: number): Spec['freeboard'] {
  const low = 0.25 + 0.066 * d.loa
  return [stern * low, low, stem * low]
}

const curve = (peak: number, aft: number, pa: number, pf: number): Curve => ({ peak, aft, fore: 0, pa, pf })

/** A round-bilged sailing hull without its keel. */
function yacht(d: Dims): Spec {
  const fb = freeboard(d, 0.97, 1.32)
  const e = ends(d, 0.815, 0.48)
  return {
    ...e,
    beam: 0.94 * d.beam,
    body: Math.min(0.06 * e.lwl, 0.7 * d.draught),
    freeboard: fb,
    counter: 0.45 * fb[0],
    plan: curve(0.44, 0.12, 2.3, 1.75),
    profile: curve(0.5, 0, 1.9, 2),
    section: 2.15,
    cut: 0.36,
  }
}

const spanOf = (s: Spec, d: Dims) => Math.max(0.06, d.draught - s.body)

const makers: Record<Kind, (d: Dims) => Spec> = {
  finKeelSloop(d) {
    const s = yacht(d)
    const { lwl: l } = s
    const span = spanOf(s, d)
    return {
      ...s,
      hung: [
        { name: 'fin', at: [0.39 * l, 0.62 * l, 0.42 * l, 0.58 * l], span },
        {
          name: 'rudder',
          at: [0.023 * l, 0.091 * l, 0.035 * l, 0.084 * l],
          span: 0.95 * span,
          blade: true,
          right: true,
        },
      ],
    }
  },
  longKeel(d) {
    const e = ends(d, 0.765, 0.43)
    const { lwl: l } = e
    const body = Math.min(0.095 * l, 0.5 * d.draught)
    const fb = freeboard(d, 0.97, 1.42)
    return {
      ...e,
      beam: 0.94 * d.beam,
      body,
      freeboard: fb,
      counter: 0.5 * fb[0],
      plan: curve(0.46, 0, 2, 1.7),
      profile: curve(0.48, 0.1, 1.8, 1.8),
      section: 1.9,
      keel: { heel: 0.1 * l, forefoot: 0.9 * l, ramp: 0.47 * l, depth: d.draught - body },
      hung: [
        { name: 'rudder', at: [-0.005 * l, 0.098 * l, 0.017 * l, 0.098 * l], span: 0.85 * d.draught, blade: true },
      ],
    }
  },
  bilgeKeel(d) {
    const s = yacht(d)
    const { lwl: l } = s
    const span = spanOf(s, d)
    return {
      ...s,
      bilge: { from: 0.38 * l, to: 0.62 * l, out: 0.62, thick: 0.02 * l, span, name: 'bilge keel' },
      hung: [
        {
          name: 'rudder and skeg',
          at: [0.02 * l, 0.11 * l, 0.03 * l, 0.085 * l],
          span: 0.85 * span,
          blade: true,
          right: true,
        },
      ],
    }
  },
  liftingKeel(d) {
    const s = yacht(d)
    const { lwl: l } = s
    const span = spanOf(s, d)
    return {
      ...s,
      hung: [
        { name: 'plate', at: [0.42 * l, 0.58 * l, 0.4 * l, 0.5 * l], span, blade: true },
        { name: 'rudder', at: [0.01 * l, 0.07 * l, 0.02 * l, 0.065 * l], span: 0.8 * span, blade: true, right: true },
      ],
    }
  },
  chineMotorBoat(d) {
    const { lwl: l, fore } = ends(d, 0.895, 0)
    const body = Math.min(0.092 * l, 0.85 * d.draught)
    return {
      lwl: l,
      aft: 0,
      fore,
      beam: 0.95 * d.beam,
      body,
      freeboard: freeboard(d, 1.1, 1.75),
      plan: curve(0.32, 0.9, 2, 2.1),
      profile: curve(0.45, 0.72, 1.5, 2),
      chine: [0.9, 0.3],
      hung: [
        {
          name: 'rudders',
          at: [0.018 * l, 0.06 * l, 0.018 * l, 0.055 * l],
          span: Math.max(0.05, d.draught - 0.8 * body),
          blade: true,
          right: true,
        },
      ],
    }
  },
  displacementMotorBoat(d) {
    const { lwl: l, fore } = ends(d, 0.9, 0)
    const body = Math.min(0.085 * l, 0.7 * d.draught)
    return {
      lwl: l,
      aft: 0,
      fore,
      beam: 0.95 * d.beam,
      body,
      freeboard: freeboard(d, 1.05, 1.7),
      plan: curve(0.42, 0.55, 2.2, 1.9),
      profile: curve(0.5, 0.15, 1.8, 2),
      section: 2.3,
      keel: { heel: 0.14 * l, forefoot: 0.85 * l, ramp: 0.6 * l, depth: d.draught - body },
      hung: [{ name: 'rudder', at: [0.03 * l, 0.1 * l, 0.03 * l, 0.1 * l], span: 0.75 * d.draught, blade: true }],
    }
  },
  openBoat(d) {
    const { lwl, fore } = ends(d, 0.94, 0)
    const low = 0.2 + 0.05 * d.loa
    return {
      lwl,
      aft: 0,
      fore,
      beam: 0.88 * d.beam,
      body: Math.min(0.045 * lwl, 0.8 * d.draught),
      freeboard: [1.05 * low, low, 1.4 * low],
      plan: curve(0.42, 0.7, 2.2, 1.8),
      profile: curve(0.5, 0.2, 1.8, 2),
      section: 2.4,
    }
  },
}

const milli = (v: number) => Math.round(v * 1000) / 1000

/** Rounds lengths to the millimetre, so that what is stored reads like a person's. */
function tidy(s: Spec): Spec {
  const { counter, keel: k, bilge: b, hung } = s
  return {
    ...s,
    lwl: milli(s.lwl),
    aft: milli(s.aft),
    fore: milli(s.fore),
    beam: milli(s.beam),
    body: milli(s.body),
    freeboard: s.freeboard.map(milli) as Spec['freeboard'],
    ...(counter ? { counter: milli(counter) } : {}),
    ...(k
      ? { keel: { heel: milli(k.heel), forefoot: milli(k.forefoot), ramp: milli(k.ramp), depth: milli(k.depth) } }
      : {}),
    ...(b ? { bilge: { ...b, from: milli(b.from), to: milli(b.to), thick: milli(b.thick), span: milli(b.span) } } : {}),
    ...(hung ? { hung: hung.map((h) => ({ ...h, span: milli(h.span), at: h.at.map(milli) as typeof h.at })) } : {}),
  }
}
