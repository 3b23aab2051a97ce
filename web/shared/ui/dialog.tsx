import type { ReactNode } from 'react'
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Button } from './button.tsx'
import css from './dialog.module.css'

/** One thing to decide, over the page. Escape and the button close it; focus goes back to where it was. */
export function Dialog({
  title,
  isOpen,
  onClose,
  children,
  wide = false,
}: {
  title: string
  isOpen: boolean
  onClose: () => void
  children: ReactNode
  wide?: boolean
}) {
  return (
    <ModalOverlay
      className={css.veil!}
      isOpen={isOpen}
      onOpenChange={(open) => !open && onClose()}
      isDismissable
    >
      <Modal className={css.box!} data-wide={wide || undefined}>
        <AriaDialog className={css.dialog!}>
          <header className={css.head}>
            <Heading slot="title">{title}</Heading>
            <Button look="quiet" small onPress={onClose}>
              Close
            </Button>
          </header>
          <div className={css.body}>{children}</div>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  )
}

/** Buttons at the foot of a dialog or a form. */
export function Actions({ children }: { children: ReactNode }) {
  return <div className={css.actions}>{children}</div>
}
