import { coveragePicture, type CoveragePlace, type Watch } from '../../../trade/alarms/coverage-picture.ts'
import { contextsFor } from '../../../trade/whole-home/context.ts'
import type { HomeVerdicts } from '../../../trade/whole-home/evaluate.ts'
import css from './home-pictures.module.css'

/** Where alarms are wanted and where they are, storey by storey as the house stands; a table, read by everybody. */
export function AlarmCoverage({ judged }: { judged: HomeVerdicts }) {
  const picture = coveragePicture(
    judged.home,
    contextsFor(judged.home.property, judged.jurisdiction, judged.today).ofHome,
  )
  if (picture.levels.length === 0) return <p>No rooms are on record.</p>
  const missing = [
    picture.smokeMissing > 0 && `${picture.smokeMissing} smoke`,
    picture.coMissing > 0 && `${picture.coMissing} carbon monoxide`,
  ].filter(Boolean)
  return (
    <>
      <p>
        {missing.length > 0
          ? `Missing: ${missing.join(', ')}.`
          : 'Every place that wants an alarm has one on record.'}
      </p>
      <table className={css.levels}>
        <caption className="visually-hidden">Alarms by level and place</caption>
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col">Smoke</th>
            <th scope="col">CO</th>
          </tr>
        </thead>
        {picture.levels.toReversed().map((level) => (
          <tbody key={level.level}>
            <tr>
              <th scope="rowgroup" colSpan={3}>
                {level.name}
              </th>
            </tr>
            {level.places.map((place) => (
              <PlaceRow key={place.kind + place.name + (place.spaceId ?? '')} place={place} />
            ))}
          </tbody>
        ))}
      </table>
    </>
  )
}

function PlaceRow({ place }: { place: CoveragePlace }) {
  return (
    <tr>
      <td>{place.name}</td>
      <td>{stateOf(place.smoke)}</td>
      <td>{stateOf(place.co)}</td>
    </tr>
  )
}

function stateOf(watch: Watch): string {
  if (watch.present === 'yes') return '● There'
  if (watch.wanted === 'no') return '– Not wanted'
  if (watch.present === 'unknown' || watch.wanted === 'unknown') return '? Not known'
  return watch.wanted === 'required' ? '▲ Missing' : '△ Advised'
}
