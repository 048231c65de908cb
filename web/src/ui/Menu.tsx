import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import { Menu as AriaMenu, MenuItem, MenuTrigger } from 'react-aria-components/Menu'
import { Popover } from 'react-aria-components/Popover'

export interface MenuChoice {
  id: string
  name: ReactNode
  note?: ReactNode
  disabled?: boolean
}

/** A button that opens a short list of things to do. */
export function Menu({
  label,
  button,
  className = 'plain',
  choices,
  onChoose,
}: {
  label: string
  button: ReactNode
  className?: string
  choices: readonly MenuChoice[]
  onChoose: (id: string) => void
}) {
  return (
    <MenuTrigger>
      <Button className={className} aria-label={label}>
        {button}
      </Button>
      <Popover className="popover" offset={4}>
        <AriaMenu
          onAction={(id) => onChoose(String(id))}
          disabledKeys={choices.filter((c) => c.disabled).map((c) => c.id)}
        >
          {choices.map((choice) => (
            <MenuItem
              key={choice.id}
              id={choice.id}
              textValue={typeof choice.name === 'string' ? choice.name : choice.id}
            >
              {choice.name}
              {choice.note && <span className="note small"> · {choice.note}</span>}
            </MenuItem>
          ))}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  )
}
