import type { ReactNode } from 'react'
import { abouts, fromReadings, grades } from '../../model/kinds'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { gradeWords } from '../../ui/Grade'
import { Tick } from '../../ui/Tick'

type Sureness = 'seen' | 'indicated' | 'suspected'

/** What a recommendation says, as it is typed. */
export interface AdviceSaid {
  grade: string
  sure: string
  readingsOnly: boolean
  what: string
  reason: string
  consequence: string
  whoActs: string
  byOn: string | null
  byAsWritten: string
  closedBy: string
  about: string
}

export const blank: AdviceSaid = {
  grade: 'watch',
  sure: 'indicated',
  readingsOnly: true,
  what: '',
  reason: '',
  consequence: '',
  whoActs: '',
  byOn: null,
  byAsWritten: '',
  closedBy: '',
  about: '',
}

/** More urgent than readings alone carry. */
export const tooMuch = ({ readingsOnly, grade }: AdviceSaid) => readingsOnly && !fromReadings(grade)

/** The fields of a recommendation, with how urgent and how sure kept apart. */
export function AdviceFields({
  said,
  onChange,
  tried,
  at,
  children,
}: {
  said: AdviceSaid
  onChange: (change: Partial<AdviceSaid>) => void
  tried: boolean
  at: (field: string) => string | undefined
  children?: ReactNode
}) {
  const put = (field: keyof AdviceSaid) => (event: { target: { value: string } }) =>
    onChange({ [field]: event.target.value })
  return (
    <>
      <TextArea
        label="What to do"
        value={said.what}
        onChange={put('what')}
        error={tried && !said.what.trim() ? 'Say what should be done' : at('what')}
      />
      <div className="fields">
        <SelectField label="How urgent" value={said.grade} onChange={put('grade')} error={at('grade')}>
          {grades.map((each) => (
            <option key={each} value={each}>
              {gradeWords(each)}
            </option>
          ))}
        </SelectField>
        {children}
      </div>
      <ChoiceField
        label="How sure"
        value={said.sure as Sureness}
        onChange={(sure) => onChange({ sure })}
        options={[
          { value: 'seen', name: 'Seen' },
          { value: 'indicated', name: 'Indicated' },
          { value: 'suspected', name: 'Suspected' },
        ]}
        error={at('sure')}
      />
      <Tick checked={said.readingsOnly} onChange={(readingsOnly) => onChange({ readingsOnly })}>
        Rests on readings alone
      </Tick>
      {tooMuch(said) && (
        <p className="small" role="alert" style={{ color: 'var(--warn)' }}>
          Readings alone carry Watch, Look further or For the record, and nothing above: they name no cause.
        </p>
      )}
      <SelectField
        label="What the next look depends on"
        value={said.about}
        onChange={put('about')}
        help="When the report is issued, the practice’s rules propose a window from it."
      >
        {abouts.map(([kind, words]) => (
          <option key={kind} value={kind}>
            {words}
          </option>
        ))}
      </SelectField>
      <TextField label="Because" value={said.reason} onChange={put('reason')} />
      <TextField label="If it is left" value={said.consequence} onChange={put('consequence')} />
      <div className="fields">
        <TextField label="Who acts" placeholder="yard" value={said.whoActs} onChange={put('whoActs')} />
        <DateField label="By" value={said.byOn} onChange={(byOn) => onChange({ byOn })} />
        <TextField
          label="Or until, in words"
          placeholder="the next launch"
          value={said.byAsWritten}
          onChange={put('byAsWritten')}
        />
        <TextField label="Closed by" placeholder="photo of each" value={said.closedBy} onChange={put('closedBy')} />
      </div>
    </>
  )
}
