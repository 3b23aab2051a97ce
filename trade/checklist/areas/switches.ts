import { count, yesNo } from '../../fields.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item } from '../item.ts'
import { PLACES_WITH_OUTLETS } from './places.ts'

export const switches: Area = {
  id: 'switches',
  title: 'Switches and dimmers',
  items: [
    item({
      id: 'switches.room',
      title: 'Switches of the room',
      plain: 'Each switch should do its work without heat, crackle or play.',
      subject: { space: [...PLACES_WITH_OUTLETS, 'stairs'] },
      readings: { tried: count('Switches tried', 0, 60), works: yesNo('All work') },
    }),
    item({
      id: 'switches.multi-way',
      title: 'Lights switched from several places',
      plain: 'A light with several switches must obey each of them, whatever position the others are in.',
      subject: 'home',
      readings: { everyPosition: yesNo('Each tried in each position of the others') },
    }),
    item({
      id: 'switches.terminations',
      title: 'Opened switches: terminations',
      plain: 'A loose wire behind a switch gets warm. A few opened switches show how the others were done.',
      subject: 'home',
      readings: {
        openedCount: count('Opened', 0, 200),
        tight: yesNo('Tight'),
        grounded: yesNo('Grounded'),
        neutralSpliceTight: yesNo('Neutral splice tight, where there is one'),
      },
      caution: CAUTIONS.receptacle,
    }),
    item({
      id: 'switches.device',
      title: 'Switch or dimmer',
      plain: 'A dimmer must suit its lamps and must not carry more than it is made for, or it runs hot.',
      subject: { equipment: 'switch', captures: ['control', 'ratedWatts', 'loadWatts', 'condition'] },
      readings: { suitsLamps: yesNo('Dimmer suits its lamps') },
    }),
  ],
}
