import { useMemo } from 'react'
import { timeIn } from '../model/dates'
import { zoneNames } from '../model/zones'
import { Combo } from './Combo'

/** The time zone of a place, chosen by its name, with what its clocks show now. */
export function ZoneField({
  label,
  help,
  error,
  value,
  onChange,
  disabled,
}: {
  label: string
  help: string
  error?: string | undefined
  value: string
  onChange: (zone: string) => void
  disabled?: boolean
}) {
  const items = useMemo(() => zoneNames(value).map((id) => ({ id, name: id.replaceAll('_', ' ') })), [value])
  return (
    <Combo
      label={label}
      help={`${help} There it is ${timeIn(new Date().toISOString(), value)} now.`}
      {...(error ? { error } : {})}
      items={items}
      empty="No zone of this name: it goes by the nearest large town."
      defaultSelectedKey={value}
      onSelectionChange={(key) => key !== null && onChange(String(key))}
      isDisabled={disabled ?? false}
    />
  )
}
