import { useMutation } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { ExamineItemDocument, type SurveyBookBodyFragment } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { Choice } from '../../ui/Choice'
import { type Examined, examinedOptions } from './ExamineItem'
import s from './surveybook.module.css'

type Examination = SurveyBookBodyFragment['examinations'][number]

/**
 * One item of the schedule. That it was examined is said with one press; whatever needs words (why not, in what
 * condition) opens its form. `said` is the newest of any visit, `visit` the one that is worked through now.
 */
export function ItemRow({
  item,
  visit,
  said,
  kept,
  open,
}: {
  item: { id: string; name: string }
  visit: string
  said: Examination | undefined
  kept: () => void
  open: (examined?: Examined) => void
}) {
  const allowed = useMay('writeVisit')
  const [{ fetching, error }, examine] = useMutation(ExamineItemDocument)
  const words = [said?.condition, said?.why, said?.note, said?.finding && 'a finding', said?.photo && 'a photo']
  const stands = examinedOptions.find(({ value }) => value === said?.examined)?.name ?? 'nothing said'

  async function choose(examined: Examined) {
    if (fetching) return
    if (said || examined !== 'examined') return open(examined)
    const { data } = await examine({
      input: { mutation: newId('mut'), id: newId('exa'), version: 0, visit, item: item.id, examined },
    })
    if (data) kept()
  }

  return (
    <li className={s.item}>
      <span>
        <b>{item.name}</b>
        <span className="small note">{words.filter(Boolean).join(' · ')}</span>
      </span>
      {allowed ? (
        <>
          <Choice
            label={`${item.name}, examined`}
            value={(said?.examined ?? null) as Examined | null}
            onChange={choose}
            options={examinedOptions.map((option) => ({ ...option, disabled: !visit }))}
          />
          <button type="button" className="quiet" disabled={!visit} onClick={() => open()}>
            {said ? 'Change' : 'Note'}
            <span className="sr">: {item.name}</span>
          </button>
          <span className={s.onPaper} aria-hidden="true">
            {stands}
          </span>
        </>
      ) : (
        <span className={said ? undefined : 'note'}>{stands}</span>
      )}
      {error && <Failed error={error} />}
    </li>
  )
}
