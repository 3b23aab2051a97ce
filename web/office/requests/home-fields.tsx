import type { JurisdictionView } from '../../../server/settings/schema.ts'
import {
  type Fuel,
  FUELS,
  type Garage,
  GARAGES,
  SPACE_KINDS,
  type SpaceKind,
  type Tenure,
  TENURES,
} from '../../../trade/property.ts'
import { newId } from '../../shared/ids.ts'
import { CheckField, FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import css from './home-fields.module.css'

/** A home as a caller tells of it, in the texts of the form. */
export interface HomeDraft {
  id: string
  line1: string
  city: string
  region: string
  postcode: string
  jurisdictionId: string
  yearBuilt: string
  levels: string
  areaSqFt: string
  tenure: Tenure | ''
  garage: Garage | ''
  fuels: Fuel[]
  accessNotes: string
  rooms: Partial<Record<SpaceKind, number>>
}

export const emptyHome = (): HomeDraft => ({
  id: newId(),
  line1: '',
  city: '',
  region: '',
  postcode: '',
  jurisdictionId: '',
  yearBuilt: '',
  levels: '',
  areaSqFt: '',
  tenure: '',
  garage: '',
  fuels: [],
  accessNotes: '',
  rooms: {},
})

const ROOMS: readonly SpaceKind[] = [
  'bedroom',
  'bathroom',
  'kitchen',
  'living',
  'hall',
  'laundry',
  'basement-unfinished',
  'garage',
  'outdoors',
]
const BELOW: readonly SpaceKind[] = ['basement-unfinished', 'basement-finished', 'crawl-space']

/** The home as the server takes it; what nobody said stays unknown. */
export function homeOf(home: HomeDraft) {
  const number = (text: string) => (text.trim() === '' ? null : Number(text))
  return {
    id: home.id,
    line1: home.line1,
    city: home.city,
    region: home.region,
    postcode: home.postcode,
    jurisdictionId: home.jurisdictionId || null,
    yearBuilt: number(home.yearBuilt),
    levels: number(home.levels),
    areaSqFt: number(home.areaSqFt),
    tenure: home.tenure || null,
    garage: home.garage || null,
    fuels: home.fuels,
    hasGasPiping:
      home.fuels.length === 0 ? null : home.fuels.includes('natural-gas') || home.fuels.includes('propane'),
    accessNotes: home.accessNotes,
    spaces: ROOMS.flatMap((kind) => {
      const count = home.rooms[kind] ?? 0
      return Array.from({ length: count }, (_, index) => ({
        kind,
        name: count > 1 ? `${SPACE_KINDS[kind]} ${index + 1}` : SPACE_KINDS[kind],
        level: BELOW.includes(kind) ? -1 : kind === 'bedroom' && Number(home.levels) > 1 ? 1 : 0,
      }))
    }),
  }
}

export function HomeFields({
  home,
  onChange,
  jurisdictions,
  fault,
}: {
  home: HomeDraft
  onChange: (home: HomeDraft) => void
  jurisdictions: readonly JurisdictionView[]
  fault: (pointer: string) => string | undefined
}) {
  const put = (part: Partial<HomeDraft>) => onChange({ ...home, ...part })
  const text = (
    name: 'line1' | 'city' | 'region' | 'postcode' | 'yearBuilt' | 'levels' | 'areaSqFt' | 'accessNotes',
  ) => ({
    value: home[name],
    onChange: (value: string) => put({ [name]: value }),
    fault: fault(`#/property/${name}`),
    autoComplete: 'off',
  })
  return (
    <>
      <FieldRow>
        <TextField label="Street and number" {...text('line1')} required />
        <TextField label="Town" {...text('city')} required />
        <TextField label="State" {...text('region')} />
        <TextField label="Postcode" {...text('postcode')} />
      </FieldRow>
      <details className={css.more}>
        <summary>What is known of the home</summary>
        <FieldRow>
          <TextField label="Year built" type="number" min={1600} max={2200} {...text('yearBuilt')} />
          <TextField label="Levels, without basement" type="number" min={1} max={20} {...text('levels')} />
          <TextField label="Area in ft²" type="number" min={1} {...text('areaSqFt')} />
          <SelectField
            label="Garage"
            value={home.garage}
            onChange={(value) => put({ garage: value as Garage })}
            options={GARAGES}
            empty="Not known"
          />
          <SelectField
            label="Who lives there"
            value={home.tenure}
            onChange={(value) => put({ tenure: value as Tenure })}
            options={TENURES}
            empty="Not known"
          />
          <SelectField
            label="Code authority"
            value={home.jurisdictionId}
            onChange={(jurisdictionId) => put({ jurisdictionId })}
            options={jurisdictions.map((each) => [each.id, each.name] as const)}
            empty="Not known"
          />
        </FieldRow>
        <fieldset className={css.group}>
          <legend>Fuels</legend>
          {Object.entries(FUELS).map(([fuel, words]) => (
            <CheckField
              key={fuel}
              label={words}
              checked={home.fuels.includes(fuel as Fuel)}
              onChange={(checked) =>
                put({
                  fuels: checked ? [...home.fuels, fuel as Fuel] : home.fuels.filter((each) => each !== fuel),
                })
              }
            />
          ))}
        </fieldset>
        <fieldset className={css.group}>
          <legend>Rooms</legend>
          {ROOMS.map((kind) => (
            <TextField
              key={kind}
              label={SPACE_KINDS[kind]}
              type="number"
              min={0}
              max={20}
              value={String(home.rooms[kind] ?? '')}
              onChange={(value) => put({ rooms: { ...home.rooms, [kind]: Number(value) || 0 } })}
            />
          ))}
        </fieldset>
        <TextField
          label="How to get in"
          {...text('accessNotes')}
          help="Gate code, dog, key: whoever goes there sees it"
        />
      </details>
    </>
  )
}
