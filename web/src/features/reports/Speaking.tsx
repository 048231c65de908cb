import c from './composer.module.css'

/** How to speak instead of typing, with what the device has itself, and who marks the spelling. */
export function Speaking() {
  return (
    <details className={c.placeholders}>
      <summary>Speaking instead of typing; spelling</summary>
      <p className="small note">
        Put the cursor into a text and use the microphone key of the device’s own keyboard, or its dictation: every text
        here takes it. Where the sound goes then is a setting of the device. This page itself sends none.
      </p>
      <p className="small note">
        Spelling is marked by the browser’s own dictionary, in British English. Words of the trade that it does not know
        are right as they are: add them to that dictionary. The report is the same either way.
      </p>
    </details>
  )
}
