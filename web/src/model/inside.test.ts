import { describe, expect, it } from 'vitest'
import { inside } from './inside'

const origin = 'https://boottop.example'

describe('where a sign-in may lead', () => {
  it('takes paths of this service as they are', () => {
    for (const path of ['/today', '/board?view=week#tue', '/reports/rpt_1/report.pdf?paper=a4'])
      expect(inside(path, origin)).toBe(path)
  })

  it.each([
    [null],
    [''],
    ['today'],
    ['//evil.example/x'],
    ['/\\evil.example'],
    ['\\/evil.example'],
    ['/\t/evil.example'],
    ['/\n/evil.example'],
    ['/.//evil.example'],
    ['/..//evil.example'],
    ['/%2e//evil.example'],
    ['https://evil.example'],
    ['javascript:alert(1)'],
    ['//[x'],
  ])('leads nobody out: %j', (to) => {
    expect(inside(to, origin)).toBeNull()
  })
})
