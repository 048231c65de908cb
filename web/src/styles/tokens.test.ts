import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

/**
 * Contrast of every pair of text and mark that the page uses, WCAG 2.2 relative luminance and contrast
 * ratio. The floors are the look's own: 7 for text (10 in the sun), 3 for marks.
 */
const css = readFileSync(new URL('tokens.css', import.meta.url), 'utf8')

function theme(name: string): Record<string, string> {
  const block = new RegExp(`\\[data-theme='${name}'\\] \\{([^}]*)\\}`).exec(css)?.[1] ?? ''
  return Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6})/g)].map((m) => [m[1] ?? '', m[2] ?? '']))
}

const channels = (hex: string) => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16) / 255)
const linear = (c: number) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
const luminance = (hex: string) =>
  channels(hex)
    .map(linear)
    .reduce((sum, c, i) => sum + c * ([0.2126, 0.7152, 0.0722][i] ?? 0), 0)
function ratio(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number]
  return (high + 0.05) / (low + 0.05)
}
/** `share` of a colour laid over another, as color-mix(in srgb, …) does. */
const mix = (a: string, b: string, share: number) => {
  const under = channels(b)
  return `#${channels(a)
    .map((c, i) =>
      Math.round(255 * (share * c + (1 - share) * (under[i] ?? 0)))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`
}

const text: [string, string][] = [
  ...['ground', 'sheet', 'land', 'water', 'deep'].flatMap((on): [string, string][] => [
    ['ink', on],
    ['ink-2', on],
  ]),
  ...['ground', 'sheet'].flatMap((on): [string, string][] => [
    ['accent', on],
    ['warn', on],
    ['good', on],
  ]),
  ['on-accent', 'accent'],
  ['sheet', 'ink'],
  ['sheet', 'warn'],
  ['on-value', 'v3'],
  ['on-value', 'v4'],
  ['ink-2', 'chosen'],
  ['ink', 'behind'],
]
const marks: [string, string][] = ['ground', 'sheet', 'land', 'water', 'deep'].flatMap((on): [string, string][] => [
  ['accent', on],
  ['line', on],
])

describe.each([
  ['paper', 7],
  ['shed', 7],
  ['glare', 10],
] as const)('%s', (name, floor) => {
  const t = theme(name)
  t.chosen = mix(t.accent ?? '', t.ground ?? '', 0.09)
  t.behind = mix(t.ink ?? '', t.deep ?? '', 0.07)

  it.each(text)(`reads %s on %s at ${floor} or more`, (fg, bg) => {
    expect(ratio(t[fg] ?? '', t[bg] ?? '')).toBeGreaterThanOrEqual(floor)
  })
  it.each(marks)('tells %s on %s apart', (fg, bg) => {
    expect(ratio(t[fg] ?? '', t[bg] ?? '')).toBeGreaterThanOrEqual(3)
  })
})

it('agrees with the ratios that WCAG itself gives', () => {
  // WCAG 2.2, technique G18: black on white is 21:1; the grey #767676 on white is 4.54:1 (from memory).
  expect(ratio('#000000', '#ffffff')).toBeCloseTo(21, 5)
  expect(ratio('#767676', '#ffffff')).toBeCloseTo(4.54, 2)
})
