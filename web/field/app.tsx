import { type ComponentType, lazy, Suspense, useEffect } from 'react'
import { LockGate } from './lock/lock-gate.tsx'
import { MyDay } from './my-day/my-day.tsx'
import { NewVersionBar } from './new-version/new-version-bar.tsx'
import { syncing } from './offline/use-field.ts'
import { NotHereYet, Opening } from './parts/opening.tsx'
import { NotKeptBar } from './parts/not-kept-bar.tsx'
import { type Place, usePlace } from './places.ts'

// The day is there at once; the sheet with its rules comes a moment later, before anybody asks for it.
const screens = {
  visit: () => import('./sheet/visit-page.tsx').then((its) => its.VisitPage),
  area: () => import('./sheet/area-page.tsx').then((its) => its.AreaPage),
  finish: () => import('./finish/finish-page.tsx').then((its) => its.FinishPage),
  sync: () => import('./sync/sync-page.tsx').then((its) => its.SyncPage),
}
const later = <Props extends object>(load: () => Promise<ComponentType<Props>>) =>
  lazy(() => load().then(asDefault, () => asDefault(NotHereYet as ComponentType<Props>)))
const asDefault = <Props extends object>(screen: ComponentType<Props>) => ({ default: screen })

const VisitPage = later(screens.visit)
const AreaPage = later(screens.area)
const FinishPage = later(screens.finish)
const SyncPage = later(screens.sync)

const FETCH_REST_AFTER_MS = 1000

export function App() {
  const place = usePlace()
  useEffect(() => void syncing.now(), [])
  useEffect(() => {
    const fetchRest = () => Object.values(screens).forEach((load) => void load().catch(() => {}))
    const timer = setTimeout(fetchRest, FETCH_REST_AFTER_MS)
    return () => clearTimeout(timer)
  }, [])
  return (
    <LockGate>
      {(place.at === 'my-day' || place.at === 'sync') && <NewVersionBar />}
      <Suspense fallback={<Opening />}>
        <Screen place={place} />
      </Suspense>
      <NotKeptBar />
    </LockGate>
  )
}

function Screen({ place }: { place: Place }) {
  switch (place.at) {
    case 'my-day':
      return <MyDay />
    case 'sync':
      return <SyncPage />
    case 'visit':
      return <VisitPage visitId={place.visitId} />
    case 'area':
      return <AreaPage key={place.areaId} visitId={place.visitId} areaId={place.areaId} line={place.line} />
    case 'finish':
      return <FinishPage visitId={place.visitId} />
  }
}
