import { CO_TEST_READINGS } from '../../alarms/co-points.ts'
import { yesNo } from '../../fields.ts'
import { whereCarbonMonoxideCanArise } from '../applies.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item } from '../item.ts'

export const alarms: Area = {
  id: 'alarms',
  title: 'Smoke, carbon monoxide and heat alarms',
  items: [
    item({
      id: 'alarms.device',
      title: 'Alarm',
      plain:
        'Alarms age even when they never sound. The date on the label tells when one has served its time.',
      subject: {
        equipment: 'alarm',
        captures: [
          'senses',
          'sensor',
          'power',
          'labelText',
          'labelUnreadable',
          'manufacturedOn',
          'installedOn',
          'makerLifeYears',
          'coLifeYears',
          'batteryChangedOn',
          'buttonTest',
          'heardElsewhere',
          'interconnected',
          'endOfLifeSounding',
          'silenceButton',
          'cookingListed',
          'cookingFeet',
          'bathDoorInches',
          'supplyRegisterInches',
          'fanTipInches',
          'mounted',
          'belowCeilingInches',
          'peakInches',
          'bedroomDoorFeet',
          'nearFuelBurner',
          'ratingF',
          'ceilingPeakF',
        ],
      },
      caution: CAUTIONS.alarmTest,
      photo: 'always',
    }),
    item({
      id: 'alarms.smoke-coverage',
      title: 'Smoke alarms where people sleep and on each level',
      plain: 'An alarm wakes you only when it is near enough to hear through a closed door.',
      subject: 'home',
    }),
    item({
      id: 'alarms.co-coverage',
      title: 'Carbon monoxide alarms',
      plain:
        'Carbon monoxide has no smell. An alarm near the bedrooms is the only thing that notices it in time.',
      subject: 'home',
      applies: whereCarbonMonoxideCanArise,
      readings: CO_TEST_READINGS,
    }),
    item({
      id: 'alarms.interconnection',
      title: 'Alarms sound together',
      plain: 'Joined alarms all sound when one of them notices smoke, so that the far bedroom hears it too.',
      subject: 'home',
      readings: { soundedTogether: yesNo('All sounded when one was tested') },
      caution: CAUTIONS.alarmTest,
    }),
    item({
      id: 'alarms.ages',
      title: 'Ages of the set',
      plain: 'When alarms of one set differ much in age, it is often simplest to renew them together.',
      subject: 'home',
      photo: 'none',
    }),
  ],
}
