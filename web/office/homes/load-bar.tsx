import { editionInForce } from '../../../trade/editions.ts'
import { lowestLoad } from '../../../trade/load/against-service.ts'
import { loadOfHome } from '../../../trade/load/from-home.ts'
import { LOAD_METHODS } from '../../../trade/load/worksheet.ts'
import type { HomeVerdicts } from '../../../trade/whole-home/evaluate.ts'
import css from './home-pictures.module.css'

/** The calculated load on the service, and what is left. */
export function LoadBar({ judged }: { judged: HomeVerdicts }) {
  const edition = editionInForce(judged.jurisdiction.adoptions, judged.today)
  const { load, serviceAmps, missing } = loadOfHome(judged.home)
  if (!edition || serviceAmps === null) {
    return (
      <p>
        Not known:{' '}
        {[!edition && 'the edition in force', serviceAmps === null && 'the service rating']
          .filter(Boolean)
          .join(', ')}
        .
      </p>
    )
  }
  const result = lowestLoad(load, serviceAmps, edition)
  const unknown = [...missing, ...(result.missing ?? [])]
  if (!result.worksheet) return <p>Not known yet: {unknown.join(', ')}.</p>
  const { amps, method } = result.worksheet
  const margin = serviceAmps - amps
  return (
    <>
      <div className={css.load} aria-hidden="true">
        <span
          style={{ width: `${Math.min(100, (amps / serviceAmps) * 100)}%` }}
          data-over={margin < 0 || undefined}
        />
      </div>
      <p>
        <strong>{amps} A</strong> of {serviceAmps} A calculated by the {LOAD_METHODS[method].toLowerCase()},{' '}
        {edition} edition: {margin >= 0 ? `${margin} A left` : `▲ ${-margin} A too much`}.
        {unknown.length > 0 && ` Still unknown: ${unknown.join(', ')}.`}
      </p>
    </>
  )
}
