import { choice, count, text, yesNo } from '../../fields.ts'
import { whereSupplyIsOverhead } from '../applies.ts'
import { CAUTIONS } from '../cautions.ts'
import { type Area, item } from '../item.ts'
import { TORQUE } from '../readings.ts'

export const service: Area = {
  id: 'service',
  title: 'Service entrance, outdoors',
  items: [
    item({
      id: 'service.meter-enclosure',
      title: 'Meter enclosure',
      plain:
        "The box around the meter keeps rain and hands away from the utility's live connections. Rust or a loose box lets water in, and water spoils those connections.",
      subject: { equipment: 'service', captures: ['ratingAmps', 'supply'] },
      readings: {
        rust: yesNo('Rust'),
        waterMarks: yesNo('Water marks'),
        looseMounting: yesNo('Loose mounting'),
        insects: yesNo('Insects or nests'),
        seal: choice('Seal', { intact: 'Intact', broken: 'Broken', missing: 'Missing' }),
        sealNumber: text('Seal number', 40),
      },
      caution: CAUTIONS.meter,
      photo: 'always',
    }),
    item({
      id: 'service.enclosure-opened',
      title: 'Enclosure opened',
      plain:
        'The meter enclosure belongs behind the utility seal. We open it only when the utility or the owner of the meter has agreed.',
      subject: { equipment: 'service' },
      readings: {
        authorisedBy: choice('Authorised by', {
          utility: 'The utility',
          'meter-owner': 'Owner of the meter',
        }),
        authorisedWho: text('Name or reference of the permission', 80),
      },
      required: ['authorisedBy'],
      caution: CAUTIONS.meter,
    }),
    item({
      id: 'service.lugs',
      title: 'Line-side and load-side lugs',
      plain:
        'These screws carry all the electricity of the home. A loose one runs hot and can burn without tripping anything.',
      subject: { equipment: 'service' },
      readings: TORQUE,
      behind: 'service.enclosure-opened',
      caution: CAUTIONS.meter,
    }),
    item({
      id: 'service.inhibitor',
      title: 'Oxide inhibitor on aluminium',
      plain:
        'Aluminium wire grows a skin that conducts badly. A paste at the connection slows that down and keeps it cool.',
      subject: { equipment: 'service', captures: ['conductorMaterial', 'oxideInhibitor'] },
      behind: 'service.enclosure-opened',
      caution: CAUTIONS.meter,
    }),
    item({
      id: 'service.entrance-cable',
      title: 'Cable from meter to house',
      plain:
        'The outer jacket keeps water out of the main cable. Once it cracks or frays, water can follow the cable into the panel.',
      subject: {
        equipment: 'service',
        captures: ['conductorMaterial', 'conductorSize', 'conductorsCorrected', 'installedOn'],
      },
      readings: {
        cracked: yesNo('Jacket cracked'),
        frayed: yesNo('Frayed'),
        sunDamaged: yesNo('Sun damage'),
        waterTrack: yesNo('Water track'),
        ageYears: count('Age of the cable in years, where known', 0, 120),
      },
      caution: CAUTIONS.meter,
      photo: 'always',
    }),
    item({
      id: 'service.entry',
      title: 'Entry to the building',
      plain:
        'Where the cable goes through the wall, a cover and sealant keep rain out. A gap there leads water to the panel.',
      subject: { equipment: 'service' },
      readings: {
        weatherCover: choice('Weather cover over the bend', {
          sound: 'Sound',
          damaged: 'Damaged',
          missing: 'Missing',
        }),
        sealant: choice('Sealant', { sound: 'Sound', cracked: 'Cracked', missing: 'Missing' }),
      },
      photo: 'always',
    }),
    item({
      id: 'service.overhead-drop',
      title: 'Overhead drop',
      plain:
        'The wires from the pole must be well fixed and out of reach above roofs, drives and walks. Too low, and a ladder or a vehicle can touch them.',
      subject: {
        equipment: 'service',
        captures: [
          'supply',
          'clearanceRoofFeet',
          'clearanceRoofKind',
          'clearanceDriveFeet',
          'clearanceWalkFeet',
        ],
      },
      applies: whereSupplyIsOverhead,
      readings: {
        attachment: choice('Attachment', { sound: 'Sound', loose: 'Loose', damaged: 'Damaged' }),
        dripLoop: yesNo('Drip loop'),
      },
      caution: CAUTIONS.overhead,
    }),
    item({
      id: 'service.emergency-disconnect',
      title: 'Outdoor emergency disconnect',
      plain:
        'A marked switch outside lets firefighters cut the power without entering. Many older homes were lawfully built without one.',
      subject: { equipment: 'service', captures: ['emergencyDisconnect', 'lastReplaced', 'installedOn'] },
    }),
    item({
      id: 'service.grounding-conductor',
      title: 'Grounding conductor at the meter',
      plain:
        'This wire ties the electrical system to the earth and helps to hold voltages steady in a storm. It does its work only while it is whole and attached.',
      subject: {
        equipment: 'service',
        captures: [
          'electrodeConductorMaterial',
          'electrodeConductorSize',
          'conductorMaterial',
          'conductorSize',
        ],
      },
      readings: {
        intact: yesNo('Intact'),
        attached: yesNo('Attached'),
        visible: yesNo('Visible at the meter'),
      },
      caution: CAUTIONS.electrode,
    }),
  ],
}
