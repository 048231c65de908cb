import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { ExamineItemDocument, ItemChoicesDocument, type SurveyBookBodyFragment } from '../../graphql/gen/graphql'
import { clock } from '../../model/dates'
import { newId } from '../../model/id'
import { ChoiceField, type Option } from '../../ui/Choice'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import { AddPhotos } from '../findings/AddPhotos'
import s from './surveybook.module.css'

type Examination = SurveyBookBodyFragment['examinations'][number]

export type Examined = 'examined' | 'in part' | 'not'

export const examinedOptions: readonly Option<Examined>[] = [
  { value: 'examined', name: 'Examined' },
  { value: 'in part', name: 'In part' },
  { value: 'not', name: 'Not' },
]

/** One item: examined, in part or not and why; its condition; the finding and photo that belong to it. */
export function ExamineItem({
  visit,
  item,
  name,
  examined: pressed,
  said,
  onClose,
}: {
  visit: string
  item: string
  name: string
  /** What was pressed in the list. */
  examined: Examined | undefined
  said: Examination | undefined
  onClose: (kept: boolean) => void
}) {
  const [examined, setExamined] = useState(pressed ?? ((said?.examined ?? 'examined') as Examined))
  const typedAs = `item/${visit}/${item}.${said?.version ?? 0}/`
  const [why, setWhy] = useTyped(`${typedAs}why`, said?.why ?? '')
  const [condition, setCondition] = useTyped(`${typedAs}condition`, said?.condition ?? '')
  const [note, setNote] = useTyped(`${typedAs}note`, said?.note ?? '')
  const [finding, setFinding] = useState(said?.finding ?? '')
  const [photo, setPhoto] = useState(said?.photo ?? '')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ data }, again] = useQuery({ query: ItemChoicesDocument, variables: { visit } })
  const [{ fetching, error }, examine] = useMutation(ExamineItemDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const fault =
      examined !== 'examined' && !why.trim() ? 'Say why: it stands under the limits of the report.' : undefined
    setWrong(fault)
    if (fault) return
    const { data } = await examine({
      input: {
        mutation: newId('mut'),
        id: said?.id ?? newId('exa'),
        version: said?.version ?? 0,
        visit,
        item,
        examined,
        why: examined === 'examined' ? '' : why.trim(),
        condition: condition.trim(),
        note: note.trim(),
        finding: finding || null,
        photo: photo || null,
      },
    })
    if (!data) return
    forgetTyped(typedAs)
    onClose(true)
  }

  return (
    <Sheet title={name} open onClose={() => onClose(false)}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <ChoiceField label="Examined" value={examined} onChange={setExamined} options={examinedOptions} />
        {examined !== 'examined' && (
          <TextField
            label={examined === 'not' ? 'Why not' : 'Why not all of it'}
            value={why}
            error={wrong}
            onChange={(event) => setWhy(event.target.value)}
          />
        )}
        {examined !== 'not' && (
          <TextField label="Condition" value={condition} onChange={(event) => setCondition(event.target.value)} />
        )}
        <TextArea label="Note" value={note} onChange={(event) => setNote(event.target.value)} />
        {(data?.visit?.findings.length ?? 0) > 0 && (
          <SelectField label="Finding" value={finding} onChange={(event) => setFinding(event.target.value)}>
            <option value="">none</option>
            {data?.visit?.findings.map((each) => (
              <option key={each.id} value={each.id}>
                {each.kind}
              </option>
            ))}
          </SelectField>
        )}
        {(data?.visit?.photos.length ?? 0) > 0 && (
          <SelectField label="Photo" value={photo} onChange={(event) => setPhoto(event.target.value)}>
            <option value="">none</option>
            {data?.visit?.photos.map((each) => (
              <option key={each.id} value={each.id}>
                {each.caption || ['no caption', each.takenAt && clock(each.takenAt)].filter(Boolean).join(', ')}
              </option>
            ))}
          </SelectField>
        )}
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Keep
          </button>
        </div>
      </form>
      {data?.visit && (
        <details className={s.photo}>
          <summary>Take a photo of it</summary>
          <p className="small note">It is kept with the visit, and then chosen above. Its caption is written there.</p>
          <AddPhotos
            visit={visit}
            vessel={data.visit.vessel.id}
            onDone={() => again({ requestPolicy: 'network-only' })}
          />
        </details>
      )}
    </Sheet>
  )
}
