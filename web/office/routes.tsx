import type { QueryClient } from '@tanstack/react-query'
import {
  createRootRouteWithContext,
  createRoute,
  createRouter,
  lazyRouteComponent,
  Outlet,
  redirect,
} from '@tanstack/react-router'
import { ApiProblem } from '../shared/api/http.ts'
import { meQuery } from '../shared/api/me.ts'
import { Forgotten } from './accounts/forgotten.tsx'
import { LogIn } from './accounts/log-in.tsx'
import { Welcome } from './accounts/welcome.tsx'
import { Shell } from './shell/shell.tsx'

/** Filters of every list live in the address: text in, text out, nothing thrown away that a screen knows. */
const searchOf = (search: Record<string, unknown>): Record<string, string> =>
  Object.fromEntries(Object.entries(search).map(([name, value]) => [name, String(value)]))

const root = createRootRouteWithContext<{ queryClient: QueryClient }>()({
  component: Outlet,
  validateSearch: searchOf,
})

const logIn = createRoute({ getParentRoute: () => root, path: '/log-in', component: LogIn })
const welcome = createRoute({ getParentRoute: () => root, path: '/welcome', component: Welcome })
const forgotten = createRoute({
  getParentRoute: () => root,
  path: '/forgotten-password',
  component: Forgotten,
})

const shell = createRoute({
  getParentRoute: () => root,
  id: 'shell',
  component: Shell,
  beforeLoad: async ({ context, location }) => {
    try {
      const me = await context.queryClient.ensureQueryData(meQuery)
      if (me.role === 'technician' && location.pathname !== '/account') window.location.assign('/field/')
    } catch (error) {
      // Only "nobody is logged in" leads to the log-in; without a connection the shell says so itself.
      if (error instanceof ApiProblem && error.status === 401) {
        throw redirect({ to: '/log-in', search: { to: location.href } })
      }
    }
  },
})

/** A screen of its own file, fetched when it is first gone to. */
const screen = <const Path extends string, const Name extends string>(
  path: Path,
  load: () => Promise<Record<Name, () => React.ReactNode>>,
  name: Name,
) => createRoute({ getParentRoute: () => shell, path, component: lazyRouteComponent(load, name) })

const start = createRoute({
  getParentRoute: () => shell,
  path: '/',
  beforeLoad: () => {
    throw redirect({ to: '/today' })
  },
})

const tree = root.addChildren([
  logIn,
  welcome,
  forgotten,
  shell.addChildren([
    start,
    screen('/today', () => import('./today/today.tsx'), 'Today'),
    screen('/visits', () => import('./visits/visits.tsx'), 'Visits'),
    screen('/visits/$id', () => import('./visits/visit.tsx'), 'Visit'),
    screen('/requests/new', () => import('./requests/new-request.tsx'), 'NewRequest'),
    screen('/homes', () => import('./homes/homes.tsx'), 'Homes'),
    screen('/homes/$id', () => import('./homes/home.tsx'), 'Home'),
    screen('/homes/$id/load', () => import('./homes/load-worksheet.tsx'), 'LoadWorksheet'),
    screen('/customers/$id', () => import('./homes/customer.tsx'), 'Customer'),
    screen('/inspections/$id', () => import('./inspections/inspection.tsx'), 'Inspection'),
    screen('/due', () => import('./due/due.tsx'), 'Due'),
    screen('/estimates', () => import('./estimates/estimates.tsx'), 'Estimates'),
    screen('/estimates/$id', () => import('./estimates/estimate.tsx'), 'Estimate'),
    screen('/prices', () => import('./prices/prices.tsx'), 'Prices'),
    screen('/messages', () => import('./messages/messages.tsx'), 'Messages'),
    screen('/messages/$id', () => import('./messages/message.tsx'), 'Message'),
    screen('/search', () => import('./search/search.tsx'), 'Search'),
    screen('/people', () => import('./people/people.tsx'), 'People'),
    screen('/settings', () => import('./settings/settings.tsx'), 'Settings'),
    screen('/settings/wording', () => import('./settings/wordings.tsx'), 'Wordings'),
    screen('/settings/wording/$kind/$language', () => import('./settings/wording.tsx'), 'Wording'),
    screen('/account', () => import('./accounts/account.tsx'), 'Account'),
  ]),
])

export function makeRouter(queryClient: QueryClient) {
  return createRouter({
    routeTree: tree,
    context: { queryClient },
    defaultPreload: false,
    scrollRestoration: true,
  })
}

declare module '@tanstack/react-router' {
  interface Register {
    router: ReturnType<typeof makeRouter>
  }
}
