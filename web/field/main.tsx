import '../shared/ui/tokens.css'
import { createRoot } from 'react-dom/client'

createRoot(document.getElementById('root')!).render(<main>My day</main>)
