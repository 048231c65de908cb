import { useState } from 'react'
import { clockTime, dayIn, instantOf, timeIn, wholeDay } from '../../model/dates'
import { DateField } from '../../ui/DateField'
import { TextField } from '../../ui/Field'
import s from './yards.module.css'

/** A day and a time of the yard as they are typed; both empty: not given. */
export interface Typed {
  day: string | null
  time: string
}

export const typed = (at: string | null | undefined, zone: string): Typed =>
  at ? { day: dayIn(at, zone), time: timeIn(at, zone) } : { day: null, time: '' }

/** The instant that was typed; null where none was, undefined where it is half given or no time. */
export function instantTyped({ day, time }: Typed, zone: string): string | null | undefined {
  if (!day && !time.trim()) return null
  const clock = clockTime(time)
  return wholeDay(day) && clock ? instantOf(day, clock, zone) : undefined
}

/** A day with its time of day, side by side. That one is missing is said once both were left. */
export function When({
  label,
  value,
  onChange,
  help,
  error,
}: {
  label: string
  value: Typed
  onChange: (value: Typed) => void
  help?: string
  error?: string | undefined
}) {
  const [left, setLeft] = useState(false)
  const half = left && Boolean(value.day) !== Boolean(value.time.trim())
  const wrong =
    error ?? (value.time.trim() && !clockTime(value.time) ? 'as 09:00' : half ? 'day and time, or neither' : undefined)
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it only hears that the focus leaves both fields
    <div
      className={s.when}
      onBlur={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget)) setLeft(true)
      }}
    >
      <DateField
        label={label}
        value={value.day}
        onChange={(day) => onChange({ ...value, day })}
        {...(help ? { help } : {})}
      />
      <TextField
        label="at"
        aria-label={`${label}, time of day`}
        value={value.time}
        onChange={(event) => onChange({ ...value, time: event.target.value })}
        error={wrong}
        autoComplete="off"
      />
    </div>
  )
}
