import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import { useMemo, useState } from 'react'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import type { JurisdictionView } from '../../../server/settings/schema.ts'
import { editionInForce } from '../../../trade/editions.ts'
import { loadOfHome } from '../../../trade/load/from-home.ts'
import { whatIf } from '../../../trade/load/what-if.ts'
import { grouped, LOAD_METHODS, type LoadMethod, type Worksheet } from '../../../trade/load/worksheet.ts'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { homeQueries } from '../../shared/api/homes.ts'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { FieldRow, SelectField } from '../../shared/ui/fields.tsx'
import { Card, Page } from '../../shared/ui/page.tsx'
import { Empty, Failed, Waiting } from '../../shared/ui/states.tsx'
import css from './load-worksheet.module.css'
import { asDay, tradeHome, tradeJurisdiction } from './trade-home.ts'
import { additionsOf, NOTHING_ADDED, WhatIfFields } from './what-if-fields.tsx'

export function LoadWorksheet() {
  const { id } = useParams({ strict: false }) as { id: string }
  const home = useQuery(homeQueries.one(id))
  const jurisdictions = useQuery({
    queryKey: ['jurisdictions'],
    queryFn: () => http.get<JurisdictionView[]>('/jurisdictions'),
  })
  const { data: me } = useQuery(meQuery)
  if (home.isError) return <Failed error={home.error} retry={() => void home.refetch()} />
  if (!home.data || !jurisdictions.data || !me) return <Waiting />
  return <WorksheetPage home={home.data} jurisdictions={jurisdictions.data} today={me.today} />
}

/** The load of the home line by line, and what becomes of it when something is added. Prints. */
function WorksheetPage({
  home,
  jurisdictions,
  today,
}: {
  home: HomeView
  jurisdictions: readonly JurisdictionView[]
  today: string
}) {
  const [method, setMethod] = useState<LoadMethod>('optional')
  const [added, setAdded] = useState(NOTHING_ADDED)
  const edition = editionInForce(tradeJurisdiction(home, jurisdictions).adoptions, asDay(today))
  const { load, serviceAmps, missing } = useMemo(() => loadOfHome(tradeHome(home)), [home])
  const additions = additionsOf(added)
  const result =
    edition && serviceAmps !== null ? whatIf(load, additions, { edition, method, serviceAmps }) : null
  const hasAdditions = Object.keys(additions).length > 0
  const sheet = (hasAdditions ? result?.after : result?.before)?.worksheet
  const unknown = [...missing, ...((hasAdditions ? result?.after : result?.before)?.missing ?? [])]
  return (
    <Page
      title={`Load, ${home.line1}`}
      under={`${home.city} ${home.postcode}${edition ? `, NFPA 70-${edition}` : ''}`}
      actions={
        <>
          <Link className={buttonLink} to="/homes/$id" params={{ id: home.id }}>
            The home
          </Link>
          <Button onPress={() => window.print()}>Print</Button>
        </>
      }
    >
      <Card title="What if">
        <FieldRow>
          <SelectField
            label="Method"
            value={method}
            onChange={(value) => setMethod(value as LoadMethod)}
            options={LOAD_METHODS}
          />
          <WhatIfFields added={added} onChange={setAdded} />
        </FieldRow>
        {!edition && (
          <Empty title="No code authority is on record for this home, so the edition in force is not known." />
        )}
        {edition && serviceAmps === null && <Empty title="The service rating is not on record yet." />}
        {unknown.length > 0 && <p>Still unknown: {unknown.join(', ')}.</p>}
        {result && hasAdditions && result.marginAfterAmps !== null && (
          <p role="status" className={css.answer}>
            {result.addedAmps} A more.{' '}
            {result.fits
              ? `It fits: ${result.marginAfterAmps} A left on ${serviceAmps} A.`
              : `▲ ${-result.marginAfterAmps} A too much for ${serviceAmps} A.`}
          </p>
        )}
        {result && result.changes.length > 0 && (
          <>
            <h3>What would have to change, one of these</h3>
            <ul>
              {result.changes.map((each) => (
                <li key={each.kind}>
                  {each.sentence} <span className={css.article}>{each.article}</span>
                </li>
              ))}
            </ul>
          </>
        )}
      </Card>
      {sheet && (
        <Card title={`${LOAD_METHODS[sheet.method]}, ${sheet.article}`}>
          <SheetTable sheet={sheet} />
          <p>
            <strong>
              {grouped(sheet.totalVA)} VA ÷ {sheet.volts} V = {sheet.amps} A
            </strong>{' '}
            on a {serviceAmps} A service. Neutral: {grouped(sheet.neutral.totalVA)} VA, {sheet.neutral.amps}{' '}
            A.
          </p>
          {sheet.assumptions.length > 0 && (
            <ul>
              {sheet.assumptions.map((each) => (
                <li key={each}>{each}</li>
              ))}
            </ul>
          )}
        </Card>
      )}
      <p className={css.article}>{VERDICT_CAUTION}</p>
    </Page>
  )
}

function SheetTable({ sheet }: { sheet: Worksheet }) {
  return (
    <table className={css.sheet}>
      <caption className="visually-hidden">Every line of the calculation</caption>
      <thead>
        <tr>
          <th scope="col">Line</th>
          <th scope="col">How it comes about</th>
          <th scope="col">Article</th>
          <th scope="col">VA</th>
        </tr>
      </thead>
      <tbody>
        {sheet.lines.map((line, index) => (
          <tr key={index} data-counted={line.counted || undefined}>
            <td>
              {line.section !== sheet.lines[index - 1]?.section && (
                <span className={css.section}>{line.section}</span>
              )}
              {line.label}
            </td>
            <td>{line.basis}</td>
            <td>{line.article}</td>
            <td>{line.counted ? grouped(line.va) : `(${grouped(line.va)})`}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={3}>
            Total of the lines that count
          </th>
          <td>{grouped(sheet.totalVA)}</td>
        </tr>
      </tfoot>
    </table>
  )
}
