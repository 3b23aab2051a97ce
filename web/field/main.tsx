import { readAtStart } from './offline/at-start.ts'
import '../shared/ui/tokens.css'
import './field.css'
import { flushSync } from 'react-dom'
import { createRoot } from 'react-dom/client'
import { applyTheme } from '../shared/theme.ts'
import { App } from './app.tsx'
import { keepAppOnDevice } from './new-version/new-version.ts'
import { watchForNotKept } from './offline/not-kept.ts'
import { askToKeepAtFirstTouch } from './offline/storage-space.ts'

applyTheme()
watchForNotKept()
askToKeepAtFirstTouch()
const root = createRoot(document.getElementById('root')!)
void readAtStart.then(() => {
  // At once: nothing else is on the screen that it could hold up.
  flushSync(() => root.render(<App />))
  // What is not needed for the first picture waits for it.
  setTimeout(keepAppOnDevice, 100)
})
