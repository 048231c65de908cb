import { describe, expect, it } from 'vitest'
import { decide, fromKept, heldWords, merge, mergeAll, parcels, taken, toKeep, toSend, typed, unfilled } from './draft'

describe('a text written on two sides', () => {
  it('takes what only one side changed', () => {
    expect(merge({ base: 'a', text: 'a' }, 'b')).toEqual({ base: 'b', text: 'b' })
    expect(merge({ base: 'a', text: 'mine' }, 'a')).toEqual({ base: 'a', text: 'mine' })
    expect(merge({ base: 'a', text: 'same' }, 'same')).toEqual({ base: 'same', text: 'same' })
    expect(merge(undefined, 'a')).toEqual({ base: 'a', text: 'a' })
  })

  it('asks where both changed it, and sends neither until a person has decided', () => {
    const fields = mergeAll({ scope: { base: 'a', text: 'mine' } }, { scope: 'theirs', limits: 'l' })
    expect(fields.scope).toEqual({ base: 'theirs', text: 'mine', theirs: 'theirs' })
    expect(toSend(fields)).toEqual([])
    // Hearing the same twice, as from an answer and from the page's own question, changes nothing.
    expect(mergeAll(fields, { scope: 'theirs', limits: 'l' })).toEqual(fields)
    expect(mergeAll(fields, { scope: 'newer', limits: 'l' }).scope).toEqual({
      base: 'newer',
      text: 'mine',
      theirs: 'newer',
    })
    expect(toSend(decide(fields, 'scope', 'mine'))).toEqual(['scope'])
    expect(decide(fields, 'scope', 'theirs').scope).toEqual({ base: 'theirs', text: 'theirs' })
  })

  it('keeps what was typed in a section that is gone', () => {
    const fields = mergeAll({ 'sec_1.body': { base: '', text: 'mine' }, 'sec_2.body': { base: 'x', text: 'x' } }, {})
    expect(Object.keys(fields)).toEqual(['sec_1.body'])
  })

  it('never loses a typed word, whatever the order of typing, saving and news', () => {
    // A small walk over every order of three events: I type, the service takes it, somebody else writes.
    for (const order of [
      ['type', 'news', 'save'],
      ['news', 'type', 'save'],
      ['type', 'save', 'news'],
    ]) {
      let held = 'a'
      let fields = mergeAll({}, { scope: held })
      for (const event of order) {
        if (event === 'type') fields = typed(fields, 'scope', `${fields.scope?.text} mine`)
        if (event === 'news') {
          held = `${held} theirs`
          fields = mergeAll(fields, { scope: held })
        }
        if (event === 'save' && toSend(fields).includes('scope')) {
          held = fields.scope?.text ?? ''
          fields = mergeAll(fields, { scope: held })
        }
      }
      const all = `${held} ${fields.scope?.text}`
      expect(all).toContain('mine')
      expect(all).toContain('theirs')
    }
  })
})

it('keeps on the device what the service has not got, and reads it back', () => {
  const fields = { scope: { base: 'a', text: 'b' }, limits: { base: 'l', text: 'l' } }
  expect(fromKept(toKeep(fields))).toEqual({ scope: { base: 'a', text: 'b' } })
  expect(toKeep({ limits: { base: 'l', text: 'l' } })).toBeNull()
  expect(fromKept('not JSON')).toEqual({})
  expect(fromKept('{"a":{"base":1,"text":"x"}}')).toEqual({})
})

it('names the placeholders that nothing stands for, as the service does', () => {
  const known = [
    { name: 'vessel', is: 'Tamsel' },
    { name: 'yard', is: '' },
  ]
  expect(unfilled('{vessel} at { Yard }, {yard} by {nobody}', known)).toEqual(['yard', 'nobody'])
  expect(unfilled('no braces', known)).toEqual([])
})

it('names the words of a draft', () => {
  const held = heldWords({
    inShort: 'i',
    scope: 's',
    limits: 'l',
    sections: [{ id: 'sec_1', title: 't', body: 'b' }],
  })
  expect(held).toEqual({ inShort: 'i', scope: 's', limits: 'l', 'sec_1.title': 't', 'sec_1.body': 'b' })
})

it('sends together what is saved together, and goes on with what was typed meanwhile', () => {
  const fields = {
    scope: { base: '', text: 'asked' },
    'sec_1.title': { base: 'a', text: 'b' },
    'sec_1.body': { base: 'c', text: 'd' },
  }
  const sent = parcels(fields, toSend(fields))
  expect(sent).toEqual([
    { section: null, names: ['scope'], changes: { scope: 'asked' } },
    { section: 'sec_1', names: ['sec_1.title', 'sec_1.body'], changes: { title: 'b', body: 'd' } },
  ])
  const typedOn = typed(fields, 'sec_1.body', 'd and more')
  const after = taken(typedOn, sent[1] as (typeof sent)[1])
  expect(after['sec_1.body']).toEqual({ base: 'd', text: 'd and more' })
  expect(toSend(after)).toEqual(['scope', 'sec_1.body'])
})
