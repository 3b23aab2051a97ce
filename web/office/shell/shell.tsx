import { useQuery, useQueryClient } from '@tanstack/react-query'
import { Link, Outlet, useLocation, useNavigate } from '@tanstack/react-router'
import { useEffect, useRef, useState } from 'react'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Failed, Waiting } from '../../shared/ui/states.tsx'
import { applyTheme, type Theme, THEMES, theTheme } from '../../shared/theme.ts'
import { useLiveChanges } from './live.ts'
import { Finder } from './finder.tsx'
import css from './shell.module.css'

const PLACES = [
  ['/today', 'Today'],
  ['/visits', 'Visits'],
  ['/homes', 'Homes'],
  ['/due', 'Due'],
  ['/estimates', 'Estimates'],
  ['/messages', 'Messages'],
  ['/prices', 'Prices'],
] as const
const ADMIN_PLACES = [
  ['/people', 'People'],
  ['/settings', 'Settings'],
] as const

/** What every screen of the office stands in: where to go, search, who I am. */
export function Shell() {
  const me = useQuery(meQuery)
  useLiveChanges(me.isSuccess)
  if (me.isPending) return <Waiting />
  if (me.isError) return <Failed error={me.error} retry={() => void me.refetch()} />
  const places = me.data.role === 'admin' ? [...PLACES, ...ADMIN_PLACES] : PLACES
  return (
    <div className={css.shell}>
      <a className={css.skip} href="#content">
        Skip to content
      </a>
      <header className={css.bar}>
        <Link to="/today" className={css.name}>
          <img src="/lamp.svg" alt="" width="28" height="28" />
          <span>{me.data.company.name}</span>
        </Link>
        <Finder />
        <PersonMenu name={me.data.name} />
      </header>
      <Places places={places} />
      <main id="content" className={css.content} tabIndex={-1}>
        <Outlet />
      </main>
    </div>
  )
}

/** On a phone the row is wider than the screen: where we are is brought into sight. */
function Places({
  places,
}: {
  places: readonly ((typeof PLACES)[number] | (typeof ADMIN_PLACES)[number])[]
}) {
  const row = useRef<HTMLElement>(null)
  const { pathname } = useLocation()
  useEffect(() => {
    const here = row.current?.querySelector<HTMLElement>('[aria-current="page"]')
    if (here) row.current!.scrollLeft = here.offsetLeft - (row.current!.clientWidth - here.offsetWidth) / 2
  }, [pathname])
  return (
    <nav ref={row} className={css.places} aria-label="Main">
      {places.map(([to, words]) => (
        <Link key={to} to={to} className={css.place} activeProps={{ 'aria-current': 'page' }}>
          {words}
        </Link>
      ))}
    </nav>
  )
}

function PersonMenu({ name }: { name: string }) {
  const queryClient = useQueryClient()
  const navigate = useNavigate()
  const [theme, setTheme] = useState(theTheme())
  const logOut = async () => {
    await http.post('/log-out')
    queryClient.clear()
    await navigate({ to: '/log-in' })
  }
  return (
    <details className={css.person}>
      <summary>
        <span className="visually-hidden">Your account: </span>
        {name}
      </summary>
      <div className={css.menu}>
        <Link to="/account">Password and sessions</Link>
        <label>
          Colours
          <select
            value={theme}
            onChange={(event) => {
              setTheme(event.target.value as Theme)
              applyTheme(event.target.value as Theme)
            }}
          >
            {Object.entries(THEMES).map(([key, words]) => (
              <option key={key} value={key}>
                {words}
              </option>
            ))}
          </select>
        </label>
        <Button small onPress={() => void logOut()}>
          Log out
        </Button>
      </div>
    </details>
  )
}
