import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { nextStates } from './follow'

it('offers the steps that the service takes, and no others', () => {
  const go = readFileSync(new URL('../../../domain/practice/recommendations.go', import.meta.url), 'utf8')
  const table = /var stateFrom = [^{]*\{(.*?)\n\}/s.exec(go)?.[1] ?? ''
  const steps = [...table.matchAll(/"([^"]+)":\s*\{([^}]*)\}/g)].map(([, to = '', list = '']) => ({
    to,
    from: [...list.matchAll(/"([^"]+)"/g)].map(([, state]) => state ?? ''),
  }))
  expect(steps.length).toBeGreaterThan(8)
  for (const state of new Set(steps.flatMap((step) => step.from)))
    expect(new Set(nextStates(state))).toEqual(new Set(steps.filter((s) => s.from.includes(state)).map((s) => s.to)))
})
