/** What the browser's own speech input offers, as far as it is used here. */
export interface Recognition extends EventTarget {
  lang: string
  continuous: boolean
  interimResults: boolean
  /** The words are made on this device, and the sound goes nowhere. */
  processLocally: boolean
  start(): void
  stop(): void
}

interface Made {
  new (): Recognition
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>
}

/** The language that reports are written in. */
export const reportLanguage = 'en-GB'

/**
 * Speech input that works on the device alone, or null. What would have to be fetched first, or would send
 * the sound to somebody, is not offered.
 */
export async function onDevice(lang = reportLanguage): Promise<Recognition | null> {
  const Kind = (globalThis as { SpeechRecognition?: Made }).SpeechRecognition
  if (!Kind?.available || !('processLocally' in Kind.prototype)) return null
  try {
    if ((await Kind.available({ langs: [lang], processLocally: true })) !== 'available') return null
  } catch {
    return null
  }
  const recognition = new Kind()
  Object.assign(recognition, { lang, continuous: true, interimResults: false, processLocally: true })
  return recognition.processLocally ? recognition : null
}

/** The words of a result that are final, from the first that is new. */
export function heard(event: Event): string {
  const { results, resultIndex = 0 } = event as Event & {
    resultIndex?: number
    results: ArrayLike<ArrayLike<{ transcript: string }> & { isFinal: boolean }>
  }
  let said = ''
  for (let k = resultIndex; k < results.length; k++) {
    const result = results[k]
    if (result?.isFinal) said += result[0]?.transcript ?? ''
  }
  return said.trim()
}

/** Puts words where the cursor stands, with a space between words, as if they had been typed. */
export function typeInto(area: HTMLTextAreaElement, words: string) {
  const { selectionStart, selectionEnd, value } = area
  const before = value.slice(0, selectionStart)
  const gap = before && !/\s$/.test(before) ? ' ' : ''
  area.setRangeText(gap + words, selectionStart, selectionEnd, 'end')
  area.dispatchEvent(new Event('input', { bubbles: true }))
}
