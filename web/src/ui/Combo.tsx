import type { ReactNode } from 'react'
import { ComboBox, type ComboBoxProps } from 'react-aria-components/ComboBox'
import { FieldError } from 'react-aria-components/FieldError'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { Text } from 'react-aria-components/Text'

export interface ComboItem {
  id: string
  name: string
  note?: string
}

/** A field that finds: type part of a name, choose from what is left. */
export function Combo({
  label,
  help,
  error,
  items,
  empty = 'Nothing by that name.',
  placeholder,
  ...box
}: {
  label: string
  help?: ReactNode
  error?: string
  items: readonly ComboItem[]
  empty?: string
  placeholder?: string
} & Omit<ComboBoxProps<ComboItem>, 'children' | 'items' | 'className'>) {
  return (
    <ComboBox
      {...box}
      className={`field ${error ? 'invalid' : ''}`}
      defaultItems={items}
      isInvalid={Boolean(error)}
      validationBehavior="aria"
      menuTrigger="focus"
      allowsEmptyCollection
    >
      <Label>{label}</Label>
      <div className="line">
        <Input placeholder={placeholder} />
      </div>
      {error && <FieldError className="error">{error}</FieldError>}
      {help && (
        <Text slot="description" className="help">
          {help}
        </Text>
      )}
      <Popover className="popover" offset={2}>
        <ListBox<ComboItem>
          renderEmptyState={() => (
            <p className="note small" style={{ padding: '8px 16px' }}>
              {empty}
            </p>
          )}
        >
          {(item) => (
            <ListBoxItem id={item.id} textValue={item.name}>
              {item.name}
              {item.note && <span className="note small"> · {item.note}</span>}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  )
}
