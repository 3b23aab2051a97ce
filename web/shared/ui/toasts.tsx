import {
  UNSTABLE_Toast as Toast,
  UNSTABLE_ToastContent as ToastContent,
  UNSTABLE_ToastQueue as ToastQueue,
  UNSTABLE_ToastRegion as ToastRegion,
  Text,
} from 'react-aria-components'
import { Button } from './button.tsx'
import css from './toasts.module.css'

interface Note {
  text: string
  undo?: () => void
}
const queue = new ToastQueue<Note>({ maxVisibleToasts: 3 })

/** Says that something was done; with `undo` where it can be taken back. */
export function tell(text: string, undo?: () => void): void {
  queue.add({ text, ...(undo && { undo }) }, { timeout: undo ? 12_000 : 6000 })
}

export function Toasts() {
  return (
    <ToastRegion queue={queue} className={css.region!}>
      {({ toast }) => (
        <Toast toast={toast} className={css.toast!}>
          <ToastContent>
            <Text slot="title">{toast.content.text}</Text>
          </ToastContent>
          {toast.content.undo && (
            <Button
              small
              onPress={() => {
                toast.content.undo?.()
                queue.close(toast.key)
              }}
            >
              Undo
            </Button>
          )}
          <Button slot="close" look="quiet" small>
            Close
          </Button>
        </Toast>
      )}
    </ToastRegion>
  )
}
