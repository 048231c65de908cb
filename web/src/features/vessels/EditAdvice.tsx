import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { EditRecommendationDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { Sheet } from '../../ui/Sheet'
import type { Advice } from '../followthrough/FollowSheet'
import { AdviceFields, type AdviceSaid, tooMuch } from './AdviceFields'
import s from './vessels.module.css'

/** A recommendation that is a draft yet: all of it may change. Once issued it keeps its words. */
export function EditAdvice({ advice, onClose }: { advice: Advice; onClose: () => void }) {
  const [said, setSaid] = useState<AdviceSaid>({
    grade: advice.grade,
    sure: advice.sure,
    readingsOnly: advice.readingsOnly,
    what: advice.what,
    reason: advice.reason,
    consequence: advice.consequence,
    whoActs: advice.whoActs,
    byOn: advice.byOn ?? null,
    byAsWritten: advice.byAsWritten,
    closedBy: advice.closedBy,
    about: advice.about,
  })
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditRecommendationDocument)
  const { at, rest } = faults(error, 'what', 'grade', 'sure')

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!said.what.trim() || tooMuch(said)) return
    const { data } = await edit({
      input: { mutation: newId('mut'), id: advice.id, version: advice.version, ...said, byNoDay: said.byOn === null },
    })
    if (data) onClose()
  }

  return (
    <Sheet title="Change what is recommended" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <p className="small note">A draft of its job: it is issued with the report and keeps its words from then on.</p>
        <AdviceFields said={said} onChange={(change) => setSaid({ ...said, ...change })} tried={tried} at={at} />
        <div>
          <button type="submit" className="act" disabled={fetching || tooMuch(said)}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
