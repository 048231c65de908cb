import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { flag, list, oneOf, optional, readSearch, text, whole, writeSearch } from './search'

const parts = {
  find: text(),
  mode: oneOf(['today', 'then', 'change', 'map'], 'today'),
  place: optional(),
  table: flag(),
  page: whole(1, 1, 500),
  visits: list(),
}

describe('search', () => {
  it('leaves defaults out of the address', () => {
    const all = readSearch(parts, new URLSearchParams())
    expect(all).toEqual({ find: '', mode: 'today', place: null, table: false, page: 1, visits: [] })
    expect(writeSearch(parts, all, new URLSearchParams()).toString()).toBe('')
  })

  it('takes damaged values as the default', () => {
    const all = readSearch(parts, new URLSearchParams('mode=trend&page=1e9&table=yes'))
    expect([all.mode, all.page, all.table]).toEqual(['today', 1, false])
  })

  it('keeps what another part of the page put there', () => {
    const next = { ...readSearch(parts, new URLSearchParams()), mode: 'map' as const }
    expect(writeSearch(parts, next, new URLSearchParams('from=board')).toString()).toBe('from=board&mode=map')
  })

  it('reads back what it wrote', () => {
    const id = fc.stringMatching(/^[a-z]{3}_[0-9a-f-]{1,36}$/)
    fc.assert(
      fc.property(
        fc.record({
          find: fc.string(),
          mode: fc.constantFrom('today', 'then', 'change', 'map'),
          place: fc.option(id),
          table: fc.boolean(),
          page: fc.integer({ min: 1, max: 500 }),
          visits: fc.array(id),
        }),
        (value) => {
          const query = new URLSearchParams(writeSearch(parts, value as never, new URLSearchParams()).toString())
          expect(readSearch(parts, query)).toEqual(value)
        },
      ),
    )
  })
})
