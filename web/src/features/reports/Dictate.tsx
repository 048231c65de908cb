import { type RefObject, useEffect, useRef, useState } from 'react'
import { heard, onDevice, type Recognition, typeInto } from '../../ui/speech'
import c from './composer.module.css'

/** Speaking instead of typing: by what the device has itself, and by nothing that sends the sound away. */
export function Dictate({ within }: { within: RefObject<HTMLElement | null> }) {
  const [speech, setSpeech] = useState<Recognition | null>(null)
  const [listening, setListening] = useState(false)
  const [wrong, setWrong] = useState(false)
  const last = useRef<HTMLTextAreaElement | null>(null)
  useEffect(() => {
    let gone = false
    onDevice().then((found) => !gone && setSpeech(found))
    return () => {
      gone = true
    }
  }, [])
  useEffect(() => {
    const area = within.current
    const note = (event: FocusEvent) => {
      if (event.target instanceof HTMLTextAreaElement) last.current = event.target
    }
    area?.addEventListener('focusin', note)
    return () => area?.removeEventListener('focusin', note)
  }, [within])
  useEffect(() => {
    if (!speech) return
    const hear = (event: Event) => {
      const words = heard(event)
      if (words && last.current?.isConnected) typeInto(last.current, words)
    }
    const end = () => setListening(false)
    const fail = () => setWrong(true)
    speech.addEventListener('result', hear)
    speech.addEventListener('end', end)
    speech.addEventListener('error', fail)
    return () => {
      speech.removeEventListener('result', hear)
      speech.removeEventListener('end', end)
      speech.removeEventListener('error', fail)
      speech.stop()
    }
  }, [speech])

  function turn() {
    if (!speech) return
    setWrong(false)
    if (listening) {
      speech.stop()
      return
    }
    const area = last.current?.isConnected ? last.current : within.current?.querySelector('textarea')
    area?.focus()
    speech.start()
    setListening(true)
  }

  return (
    <details className={c.placeholders}>
      <summary>Speaking instead of typing; spelling</summary>
      {speech ? (
        <>
          <p className="small note">
            The words are made on this device and go where the cursor stood last. No sound leaves it.
          </p>
          <div className="buttons">
            <button type="button" className="plain" aria-pressed={listening} onClick={turn}>
              {listening ? 'Stop listening' : 'Speak'}
            </button>
          </div>
          <p role="status" className="small">
            {wrong ? 'Nothing was heard. Is the microphone allowed for this page?' : listening ? 'Listening.' : ''}
          </p>
        </>
      ) : (
        <p className="small note">
          Put the cursor into a text and use the microphone key of the device’s own keyboard, or its dictation: every
          text here takes it. Where the sound goes then is a setting of the device. This page itself sends none.
        </p>
      )}
      <p className="small note">
        Spelling is marked by the browser’s own dictionary, in British English. Words of the trade that it does not know
        are right as they are: add them to that dictionary. The report is the same either way.
      </p>
    </details>
  )
}
