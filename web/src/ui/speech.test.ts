import { afterEach, describe, expect, it } from 'vitest'
import { heard, onDevice } from './speech'

/** A device's speech input as the browser would bring it; none is there where tests run. */
class Device extends EventTarget {
  static answer = 'available'
  static asked: unknown
  static available(options: unknown) {
    Device.asked = options
    return Promise.resolve(Device.answer)
  }
  lang = ''
  get processLocally() {
    return this.local
  }
  set processLocally(on: boolean) {
    this.local = on
  }
  private local = false
  start() {}
  stop() {}
}
const place = globalThis as { SpeechRecognition?: unknown }
afterEach(() => {
  delete place.SpeechRecognition
  Device.answer = 'available'
})

describe('speech input', () => {
  it('is not offered where there is none, or none that stays on the device', async () => {
    expect(await onDevice()).toBeNull()
    place.SpeechRecognition = class extends EventTarget {} // sends the sound to somebody
    expect(await onDevice()).toBeNull()
    place.SpeechRecognition = Device
    for (const answer of ['downloadable', 'downloading', 'unavailable']) {
      Device.answer = answer
      expect(await onDevice()).toBeNull()
    }
  })

  it('is asked for on the device alone, in the language of the report', async () => {
    place.SpeechRecognition = Device
    const found = await onDevice()
    expect(Device.asked).toEqual({ langs: ['en-GB'], processLocally: true })
    expect(found).toMatchObject({ lang: 'en-GB', processLocally: true })
  })

  it('gives the words that are final, from the first that is new', () => {
    const result = (isFinal: boolean, transcript: string) => Object.assign([{ transcript }], { isFinal })
    const results = [result(true, 'old words'), result(true, 'clear note '), result(false, 'perhaps')]
    expect(heard(Object.assign(new Event('result'), { resultIndex: 1, results }))).toBe('clear note')
  })
})
