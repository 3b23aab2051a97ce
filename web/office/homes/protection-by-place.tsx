import type { Required, Verdict } from '../../../trade/verdict.ts'
import type { HomeVerdicts } from '../../../trade/whole-home/evaluate.ts'
import { verdictsAbout } from '../../../trade/whole-home/verdicts.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import css from './home-pictures.module.css'

const RULE = 'ground-fault.places'
const WORDS: Readonly<Record<Required, string>> = { yes: 'Yes', no: 'No', unknown: 'Not known' }

/** Each place that a rule concerns: protected or not, and whether it had to be then and has to be now. */
export function ProtectionByPlace({ judged }: { judged: HomeVerdicts }) {
  const places = judged.home.spaces.flatMap((space) => {
    const verdict = verdictsAbout(judged, 'space', space.id).find(
      (each) => each.rule === RULE && each.outcome !== 'not-applicable',
    )
    return verdict ? [{ space, verdict }] : []
  })
  if (places.length === 0) return <p>No place that asks for it is on record.</p>
  return (
    <table className={css.levels}>
      <caption className="visually-hidden">Ground-fault protection by place</caption>
      <thead>
        <tr>
          <th scope="col">Place</th>
          <th scope="col">Found</th>
          <th scope="col">When built</th>
          <th scope="col">Today</th>
        </tr>
      </thead>
      <tbody>
        {places.map(({ space, verdict }) => (
          <tr key={space.id}>
            <td>{space.name}</td>
            <td>
              <Found verdict={verdict} />
            </td>
            <td>{WORDS[verdict.requiredWhenBuilt]}</td>
            <td>{WORDS[verdict.requiredToday]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Found({ verdict }: { verdict: Verdict }) {
  if (verdict.outcome === 'finding') return <SeverityMark severity={verdict.severity} />
  return verdict.outcome === 'sound' ? '● Protected' : '? Not known'
}
