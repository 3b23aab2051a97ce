import '../shared/ui/tokens.css'
import './field.css'
import { createRoot } from 'react-dom/client'
import { applyTheme } from '../shared/theme.ts'
import { App } from './app.tsx'

applyTheme()
createRoot(document.getElementById('root')!).render(<App />)
