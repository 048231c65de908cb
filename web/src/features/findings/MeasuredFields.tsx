import type { FindingFormsQuery } from '../../graphql/gen/graphql'
import { ChoiceField } from '../../ui/Choice'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import s from './findings.module.css'

export type Form = FindingFormsQuery['findingForms'][number]
type Field = Form['fields'][number]

/** A few short words are a strip to tap; more of them a list. */
const strip = ({ choices }: Field) => choices.length <= 3 && choices.join('').length <= 28

/** What a kind of finding asks, and nothing else: what it cannot do without first. */
export function MeasuredFields({
  form,
  typed,
  wrong,
  onType,
}: {
  form: Form
  typed: Readonly<Record<string, string>>
  wrong: Readonly<Record<string, string>>
  onType: (name: string, value: string) => void
}) {
  const needed = form.fields.filter((field) => field.needed)
  const rest = form.fields.filter((field) => !field.needed)
  const draw = (field: Field) => (
    <One
      key={field.name}
      field={field}
      value={typed[field.name] ?? ''}
      error={wrong[field.name]}
      onChange={(value) => onType(field.name, value)}
    />
  )
  return (
    <>
      <p className="note">{form.asks}</p>
      {form.caution && (
        <p className={s.caution}>
          <b>Mind:</b> {form.caution}
        </p>
      )}
      <div className={s.pair}>{needed.map(draw)}</div>
      <div className={s.pair}>{rest.map(draw)}</div>
    </>
  )
}

function One({
  field,
  value,
  error,
  onChange,
}: {
  field: Field
  value: string
  error: string | undefined
  onChange: (value: string) => void
}) {
  const common = { label: field.label, error, help: field.help || undefined }
  const typed = { ...common, value, onChange: (event: { target: { value: string } }) => onChange(event.target.value) }
  if (field.takes === 'choice' && strip(field))
    return (
      <ChoiceField
        label={field.label}
        {...(error ? { error } : {})}
        {...(field.help ? { help: field.help } : {})}
        value={value || null}
        onChange={onChange}
        options={field.choices.map((choice) => ({ value: choice, name: choice }))}
      />
    )
  if (field.takes === 'choice')
    return (
      <SelectField {...typed}>
        <option value="">not noted</option>
        {field.choices.map((choice) => (
          <option key={choice}>{choice}</option>
        ))}
      </SelectField>
    )
  if (field.takes === 'words') return <TextField {...typed} />
  return (
    <NumberField
      {...typed}
      unit={field.unit || undefined}
      {...(field.takes === 'whole' ? { inputMode: 'numeric' } : {})}
      {...(field.takes === 'numbers' ? { placeholder: '4 3.5 6' } : {})}
    />
  )
}
