import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { type CompetenceRowFragment, SetCompetencesDocument } from '../../graphql/gen/graphql'
import { dayIn } from '../../model/dates'
import { newId } from '../../model/id'
import { jobKinds } from '../../model/kinds'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './people.module.css'

/** A judgement on what somebody is competent for: which kinds, of which day, whose, on what grounds. */
export function JudgeCompetence({
  of,
  members,
  onClose,
  onDone,
}: {
  of: CompetenceRowFragment
  members: readonly { id: string; name: string }[]
  onClose: () => void
  onDone: () => void
}) {
  const viewer = useViewer()
  const [kinds, setKinds] = useState<ReadonlySet<string>>(() => new Set(of.kinds.map(({ kind }) => kind)))
  const [on, setOn] = useState<string | null>(dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC'))
  const [by, setBy] = useState(viewer?.member.id ?? '')
  const [grounds, setGrounds] = useState('')
  const [again, setAgain] = useState(false)
  const [{ fetching, error }, set] = useMutation(SetCompetencesDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const judges = members.some(({ id }) => id === viewer?.member.id)
    ? members
    : [...(viewer ? [viewer.member] : []), ...members]

  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await set({
      input: {
        mutation: newId('mut'),
        member: of.member.id,
        kinds: [...kinds],
        judgedOn: on,
        judgedBy: by || null,
        grounds: grounds.trim(),
        again,
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title={`What ${of.member.name} is competent for`} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !['judgedOn', 'grounds'].includes(String(fault?.extensions?.field)) && <Failed error={error} />}
        <fieldset className={s.kinds}>
          <legend>Does</legend>
          {jobKinds.map((kind) => (
            <Tick
              key={kind}
              checked={kinds.has(kind)}
              onChange={(does) => {
                const next = new Set(kinds)
                if (does) next.add(kind)
                else next.delete(kind)
                setKinds(next)
              }}
            >
              {kind}
            </Tick>
          ))}
        </fieldset>
        <div className="fields">
          <DateField
            label="Judged on"
            value={on}
            onChange={setOn}
            {...(at('judgedOn') ? { error: at('judgedOn') as string } : {})}
          />
          <SelectField label="By" value={by} onChange={(event) => setBy(event.target.value)}>
            {judges.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </SelectField>
        </div>
        <TextField
          label="On what grounds"
          placeholder="went along to ten of them"
          value={grounds}
          error={at('grounds')}
          onChange={(event) => setGrounds(event.target.value)}
          autoComplete="off"
        />
        {of.kinds.length > 0 && (
          <Tick checked={again} onChange={setAgain}>
            Judge those anew too that stood already
          </Tick>
        )}
        <p className="small note">None ticked: nobody says what {of.member.name} does, and no visit asks.</p>
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Keep the judgement
          </button>
        </div>
      </form>
    </Sheet>
  )
}
