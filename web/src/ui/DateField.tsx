import { type CalendarDate, parseDate } from '@internationalized/date'
import type { ReactNode } from 'react'
import { DateField as AriaDateField, DateInput, DateSegment } from 'react-aria-components/DateField'
import { FieldError } from 'react-aria-components/FieldError'
import { I18nProvider } from 'react-aria-components/I18nProvider'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'

function parsed(day: string | null): CalendarDate | null {
  try {
    return day ? parseDate(day) : null
  } catch {
    return null
  }
}

/** A day, typed part by part; ISO outside (2026-10-14), day first inside. */
export function DateField({
  label,
  help,
  error,
  value,
  onChange,
}: {
  label: string
  help?: ReactNode
  error?: string
  value: string | null
  onChange: (day: string | null) => void
}) {
  return (
    <I18nProvider locale="en-GB">
      <AriaDateField
        className={`field ${error ? 'invalid' : ''}`}
        value={parsed(value)}
        onChange={(day) => onChange(day?.toString() ?? null)}
        isInvalid={Boolean(error)}
        validationBehavior="aria"
        shouldForceLeadingZeros
      >
        <Label className="label">{label}</Label>
        <DateInput className="line date-line">{(segment) => <DateSegment segment={segment} />}</DateInput>
        {error && <FieldError className="error">{error}</FieldError>}
        {help && (
          <Text slot="description" className="help">
            {help}
          </Text>
        )}
      </AriaDateField>
    </I18nProvider>
  )
}
