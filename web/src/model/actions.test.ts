import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { actions } from './actions'

const source = readFileSync(new URL('../../../domain/permission.go', import.meta.url), 'utf8')

it.each(Object.entries(actions))('names the action %s as the service does', (name, words) => {
  const go = name.charAt(0).toUpperCase() + name.slice(1)
  expect(new RegExp(`\\b${go}\\s+(Action\\s+)?= "([^"]*)"`).exec(source)?.[2]).toBe(words)
})
