import type { ReactNode } from 'react'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'

export interface Option<T extends string> {
  value: T
  name: ReactNode
  disabled?: boolean
}

/** One of up to seven, as words in a ruled strip, the chosen one inked. Arrow keys move, as in a radio group. */
export function Choice<T extends string>({
  label,
  options,
  value,
  onChange,
  roomy,
}: {
  label: string
  options: readonly Option<T>[]
  value: T | null
  onChange: (value: T) => void
  roomy?: boolean
}) {
  return (
    <ToggleButtonGroup
      className={roomy ? 'choice roomy' : 'choice'}
      aria-label={label}
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={value === null ? [] : [value]}
      onSelectionChange={(keys) => {
        const next = [...keys][0]
        if (next !== undefined) onChange(next as T)
      }}
    >
      {options.map((option) => (
        <ToggleButton key={option.value} id={option.value} isDisabled={option.disabled ?? false}>
          {option.name}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  )
}

/** A choice inside a form: label above, help and error below. */
export function ChoiceField<T extends string>({
  help,
  error,
  ...choice
}: Parameters<typeof Choice<T>>[0] & { help?: ReactNode; error?: string }) {
  return (
    <div className={`field ${error ? 'invalid' : ''}`}>
      <span className="label">{choice.label}</span>
      <div>
        <Choice roomy {...choice} />
      </div>
      {error && (
        <p className="error" role="alert">
          {error}
        </p>
      )}
      {help && <p className="help">{help}</p>}
    </div>
  )
}
