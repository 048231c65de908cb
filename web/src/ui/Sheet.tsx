import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { holdFocus } from './holdFocus'
import { Cross } from './signs'

const held = (sheet: HTMLElement | null) => (sheet ? holdFocus(sheet) : undefined)

/**
 * A sheet laid over the page. Escape and the cross put it away; focus stays in it until then, whatever goes from it,
 * and goes back where it came from.
 */
export function Sheet({
  title,
  open,
  onClose,
  wide,
  children,
}: {
  title: string
  open: boolean
  onClose: () => void
  wide?: boolean
  children: ReactNode
}) {
  return (
    <ModalOverlay className="veil" isOpen={open} onOpenChange={(now) => now || onClose()} isDismissable>
      <Modal className={wide ? 'sheet wide' : 'sheet'}>
        <Dialog ref={held}>
          <header>
            <Heading slot="title" level={2}>
              {title}
            </Heading>
            <Button className="quiet push" onPress={onClose}>
              <Cross /> Close
            </Button>
          </header>
          {children}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
