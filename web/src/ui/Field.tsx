import { type ComponentProps, type ReactNode, useId } from 'react'
import { Cross } from './signs'

/** The language that reports are written in. */
const reportLanguage = 'en-GB'

interface Common {
  label: string
  help?: ReactNode
  /** What is wrong and what to do; the typed value is kept. */
  error?: string | undefined
  unit?: ReactNode
  className?: string
}

/** Label, line, help and error around one control. */
export function Labelled({
  label,
  help,
  error,
  unit,
  className = '',
  children,
}: Common & { children: (ids: { id: string; 'aria-describedby'?: string; 'aria-invalid'?: true }) => ReactNode }) {
  const id = useId()
  const about = [help && `${id}-help`, error && `${id}-error`].filter(Boolean).join(' ')
  return (
    <div className={`field ${error ? 'invalid' : ''} ${className}`}>
      <label htmlFor={id}>{label}</label>
      <div className="line">
        {children({ id, ...(about ? { 'aria-describedby': about } : {}), ...(error ? { 'aria-invalid': true } : {}) })}
        {unit && <span className="unit">{unit}</span>}
      </div>
      {error && (
        <p className="error" id={`${id}-error`} role="alert">
          <Cross />
          {error}
        </p>
      )}
      {help && (
        <p className="help" id={`${id}-help`}>
          {help}
        </p>
      )}
    </div>
  )
}

type TextProps = Common & Omit<ComponentProps<'input'>, 'className'>

export function TextField({ label, help, error, unit, className, ...input }: TextProps) {
  return (
    <Labelled label={label} help={help} error={error} unit={unit} className={className}>
      {(ids) => <input type="text" {...input} {...ids} />}
    </Labelled>
  )
}

export function TextArea({
  label,
  help,
  error,
  className,
  ...area
}: Omit<Common, 'unit'> & Omit<ComponentProps<'textarea'>, 'className'>) {
  return (
    <Labelled label={label} help={help} error={error} className={className}>
      {(ids) => <textarea rows={3} spellCheck lang={reportLanguage} {...area} {...ids} />}
    </Labelled>
  )
}

/**
 * A number with an optional unit. Plain text with a decimal keypad, never type=number: the wheel would
 * change it and half the keypads lack the right separator. Comma and point both part the decimals.
 */
export function NumberField(props: TextProps) {
  return <TextField inputMode="decimal" autoComplete="off" spellCheck={false} {...props} />
}

export function SelectField({
  label,
  help,
  error,
  className,
  children,
  ...select
}: Omit<Common, 'unit'> & Omit<ComponentProps<'select'>, 'className'>) {
  return (
    <Labelled label={label} help={help} error={error} className={className}>
      {(ids) => (
        <select {...select} {...ids}>
          {children}
        </select>
      )}
    </Labelled>
  )
}
