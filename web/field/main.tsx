import '../shared/ui/tokens.css'
import './field.css'
import { createRoot } from 'react-dom/client'
import { applyTheme } from '../shared/theme.ts'
import { App } from './app.tsx'
import { keepAppOnDevice } from './new-version/new-version.ts'
import { watchForNotKept } from './offline/not-kept.ts'
import { askToKeepAtFirstTouch } from './offline/storage-space.ts'

applyTheme()
watchForNotKept()
askToKeepAtFirstTouch()
createRoot(document.getElementById('root')!).render(<App />)
keepAppOnDevice()
