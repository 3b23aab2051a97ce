import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import type { JurisdictionView } from '../../../server/settings/schema.ts'
import { inUse } from '../../../trade/home.ts'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { evaluateHome } from '../../../trade/whole-home/evaluate.ts'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { Card } from '../../shared/ui/page.tsx'
import { AlarmCoverage } from './alarm-coverage.tsx'
import css from './home-pictures.module.css'
import { LoadBar } from './load-bar.tsx'
import { PanelPicture } from './panel-picture.tsx'
import { ProtectionByPlace } from './protection-by-place.tsx'
import { asDay, tradeHome, tradeJurisdiction } from './trade-home.ts'

/** Panel, alarms, protection by place and service load as pictures, each with its table: computed here, by the rules. */
export function HomePictures({ home }: { home: HomeView }) {
  const { data: me } = useQuery(meQuery)
  const jurisdictions = useQuery({
    queryKey: ['jurisdictions'],
    queryFn: () => http.get<JurisdictionView[]>('/jurisdictions'),
  })
  const today = me?.today
  const judged = useMemo(() => {
    if (!today || !jurisdictions.data) return null
    return evaluateHome(tradeHome(home), tradeJurisdiction(home, jurisdictions.data), asDay(today))
  }, [home, jurisdictions.data, today])
  if (!judged || judged.home.equipment.length === 0) return null
  const panels = inUse(judged.home, 'panel')
  return (
    <>
      {panels.map((panel) => (
        <Card key={panel.id} title={panel.label || 'Panel'}>
          <PanelPicture panel={panel} judged={judged} />
        </Card>
      ))}
      <div className={css.two}>
        <Card title="Alarms by level">
          <AlarmCoverage judged={judged} />
        </Card>
        <Card title="Ground-fault protection by place">
          <ProtectionByPlace judged={judged} />
        </Card>
      </div>
      <Card title="Service load">
        <LoadBar judged={judged} />
      </Card>
      <p className={css.caution}>{VERDICT_CAUTION}</p>
    </>
  )
}
