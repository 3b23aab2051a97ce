import { useSyncExternalStore } from 'react'
import { notKept } from '../offline/not-kept.ts'
import css from './not-kept-bar.module.css'
import { GoTo } from './go-to.tsx'

const WORDS = {
  'disk-full': {
    title: 'This device is full: the last change was not kept.',
    todo: 'Text that you typed is still in its field. Make room (videos and apps not needed), then leave the field or press again. What was kept before is safe.',
  },
  'store-failed': {
    title: 'The last change could not be kept.',
    todo: 'Text that you typed is still in its field. Note it down, load this page again, then enter it once more. What was kept before is safe.',
  },
} as const

/** Over everything until it is read: something that was tapped or typed is not on the device. */
export function NotKeptBar() {
  const why = useSyncExternalStore(notKept.subscribe, notKept.state)
  if (!why) return null
  return (
    <div className={css.bar} role="alert">
      <p>
        <strong>{WORDS[why].title}</strong> {WORDS[why].todo}
      </p>
      <div className="row">
        <GoTo place={{ at: 'sync' }} className="press">
          See the space on this device
        </GoTo>
        <button type="button" className="press" onClick={notKept.dismiss}>
          I have read it
        </button>
      </div>
    </div>
  )
}
