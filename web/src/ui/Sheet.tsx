import { type ReactNode, useLayoutEffect } from 'react'
import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { holdFocus } from './holdFocus'
import { Cross } from './signs'

const held = (sheet: HTMLElement | null) => (sheet ? holdFocus(sheet) : undefined)

/**
 * What opened a sheet may be gone when it closes: a hold that was lifted, a report that was replaced. Then focus goes to
 * the nearest part of the page round it that is still there, and not to the top of the document.
 */
function useWayBack(open: boolean) {
  useLayoutEffect(() => {
    if (!open) return
    const from: HTMLElement[] = []
    for (let at = document.activeElement; at instanceof HTMLElement && at !== document.body; at = at.parentElement)
      from.push(at)
    return () => {
      // The sheet gives focus back by itself first, where it can, once it has gone.
      for (const ms of [80, 250, 600]) setTimeout(() => goBack(from), ms)
    }
  }, [open])
}

function goBack(from: readonly HTMLElement[]) {
  if (document.activeElement && document.activeElement !== document.body) return
  const near = from.find((part) => part.isConnected)
  if (!near) return
  if (near.tabIndex < 0) near.tabIndex = -1
  near.focus({ preventScroll: true })
}

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
  useWayBack(open)
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
