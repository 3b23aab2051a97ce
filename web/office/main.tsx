import '../shared/ui/tokens.css'
import { QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { RouterProvider } from '@tanstack/react-router'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { ApiProblem } from '../shared/api/http.ts'
import { applyTheme } from '../shared/theme.ts'
import { Toasts } from '../shared/ui/toasts.tsx'
import { makeRouter } from './routes.tsx'

applyTheme()

const queryClient = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: 15_000,
      // A refusal stays one; only what never arrived is worth asking again.
      retry: (times, error) => times < 2 && !(error instanceof ApiProblem && error.status < 500),
    },
  },
})
const router = makeRouter(queryClient)

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <QueryClientProvider client={queryClient}>
      <RouterProvider router={router} />
      <Toasts />
    </QueryClientProvider>
  </StrictMode>,
)
