import { yesNo } from '../../fields.ts'
import { type Area, item } from '../item.ts'

export const panelCoverOn: Area = {
  id: 'panel-cover-on',
  title: 'Distribution panel, cover on',
  items: [
    item({
      id: 'panel-cover-on.location',
      title: 'Location',
      plain:
        'A panel belongs where it is dry, reachable and clear of stored things. In a closet or bathroom heat, damp or clutter come too close.',
      subject: { equipment: 'panel', captures: ['role', 'overStairs', 'topHandleInches'] },
      readings: { usedForStorage: yesNo('Space in front used for storage'), lit: yesNo('Lit, by a switch') },
    }),
    item({
      id: 'panel-cover-on.working-space',
      title: 'Working space',
      plain: 'Free space in front of the panel lets someone work on it, and step back from it, safely.',
      subject: {
        equipment: 'panel',
        captures: [
          'widthInches',
          'workingWidthInches',
          'workingDepthInches',
          'workingHeightInches',
          'doorOpensFully',
        ],
      },
    }),
    item({
      id: 'panel-cover-on.directory',
      title: 'Directory',
      plain:
        'The list in the panel door tells which breaker serves what. In a hurry, the right breaker must be found at once.',
      subject: { equipment: 'panel', captures: ['positions'] },
      photo: 'always',
    }),
    item({
      id: 'panel-cover-on.main-breaker',
      title: 'Main breaker against the service conductors',
      plain: 'The main breaker must be no larger than the wires that feed it can carry.',
      subject: { equipment: 'panel', captures: ['mainAmps', 'busAmps'] },
    }),
    item({
      id: 'panel-cover-on.door-and-cover',
      title: 'Door, cover and screws',
      plain:
        'The cover keeps fingers away from live parts. Its screws have blunt ends, so that they cannot cut into a wire.',
      subject: { equipment: 'panel' },
      readings: {
        doorWorks: yesNo('Door works'),
        coverSeated: yesNo('Cover seated'),
        bluntScrews: yesNo('All screws there and blunt'),
      },
    }),
    item({
      id: 'panel-cover-on.heat',
      title: 'Signs of heat',
      plain: 'Discoloured metal, a warm cover or a burnt smell show a connection that is failing inside.',
      subject: { equipment: 'panel', captures: ['signsOfHeat'] },
      photo: 'expected-on-finding',
    }),
  ],
}
