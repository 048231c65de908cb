import type { ReactNode } from 'react'
import { Checkbox } from 'react-aria-components/Checkbox'

export function Tick({
  children,
  checked,
  onChange,
  disabled,
}: {
  children: ReactNode
  checked: boolean
  onChange: (checked: boolean) => void
  disabled?: boolean
}) {
  return (
    <Checkbox className="tick" isSelected={checked} onChange={onChange} isDisabled={disabled ?? false}>
      <span className="box" aria-hidden="true" />
      <span>{children}</span>
    </Checkbox>
  )
}
