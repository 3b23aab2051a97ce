import { useEffect } from 'react'
import { FinishPage } from './finish/finish-page.tsx'
import { MyDay } from './my-day/my-day.tsx'
import { syncing } from './offline/use-field.ts'
import { usePlace } from './places.ts'
import { AreaPage } from './sheet/area-page.tsx'
import { VisitPage } from './sheet/visit-page.tsx'
import { SyncPage } from './sync/sync-page.tsx'

export function App() {
  const place = usePlace()
  useEffect(() => void syncing.now(), [])
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
