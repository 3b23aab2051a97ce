import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import { useState } from 'react'
import type { InspectionView } from '../../../server/inspections/schema.ts'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { inspectionQueries } from '../../shared/api/homes.ts'
import { http, urlOf } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button, buttonLink } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { TextArea } from '../../shared/ui/fields.tsx'
import { Card, Facts, Page, Tag } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { NewEstimate } from '../estimates/new-estimate.tsx'
import { Disagreements } from './disagreements.tsx'
import { FindingsReview } from './findings-review.tsx'
import { RecordedTwice } from './recorded-twice.tsx'
import css from './inspection.module.css'
import { SignedWords } from './signed-words.tsx'

const STATES = {
  open: 'Being filled in',
  completed: 'Complete, report not issued',
  issued: 'Report issued',
} as const

export function Inspection() {
  const { id } = useParams({ strict: false }) as { id: string }
  const inspection = useQuery(inspectionQueries.one(id))
  if (inspection.isPending) return <Waiting />
  if (inspection.isError) return <Failed error={inspection.error} retry={() => void inspection.refetch()} />
  return <InspectionPage inspection={inspection.data} />
}

/** What was written on site, read by the office before it goes to the customer. */
function InspectionPage({ inspection }: { inspection: InspectionView }) {
  const queryClient = useQueryClient()
  const [issuing, setIssuing] = useState(false)
  const refresh = () => queryClient.invalidateQueries({ queryKey: inspectionQueries.all() })
  const complete = useMutation({
    mutationFn: () => http.post(`/inspections/${inspection.id}/complete`),
    onSuccess: refresh,
  })
  const reopen = useMutation({
    mutationFn: () => http.post(`/inspections/${inspection.id}/reopen`),
    onSuccess: refresh,
  })
  const isOpen = inspection.state === 'open'
  return (
    <Page
      title={`Inspection, ${inspection.property.line1}`}
      under={
        <>
          {inspection.technicianName}{' '}
          <Tag tone={inspection.state === 'issued' ? 'good' : 'lamp'}>
            {STATES[inspection.state as keyof typeof STATES]}
          </Tag>
        </>
      }
      actions={
        <>
          <Link className={buttonLink} to="/homes/$id" params={{ id: inspection.propertyId }}>
            The home
          </Link>
          {inspection.findings.some(({ state }) => state === 'open') && !isOpen && (
            <NewEstimate
              of={{ propertyId: inspection.propertyId, inspectionId: inspection.id }}
              words="Write an estimate"
            />
          )}
          {inspection.state === 'completed' && <Button onPress={() => reopen.mutate()}>Open again</Button>}
          {isOpen ? (
            <Button look="main" isDisabled={inspection.open.length > 0} onPress={() => complete.mutate()}>
              Complete it
            </Button>
          ) : (
            <Button look="main" onPress={() => setIssuing(true)}>
              {inspection.reports.length > 0 ? 'Issue a corrected report' : 'Issue the report'}
            </Button>
          )}
        </>
      }
    >
      <Fault error={complete.error ?? reopen.error} />
      <Card title="How far it is">
        <Facts
          facts={[
            ['Begun', formatInstant(inspection.startedAt, inspection.property.timeZone)],
            [
              'Finished',
              inspection.completedAt && formatInstant(inspection.completedAt, inspection.property.timeZone),
            ],
            ['Findings', inspection.findings.length],
            ['Pictures', inspection.photos.length],
            ['Still open', inspection.open.length],
          ]}
        />
        {inspection.open.length > 0 && (
          <details>
            <summary>What is still open</summary>
            <ul>
              {inspection.open.map((each) => (
                <li key={`${each.kind}${each.itemId}${each.subjectId}${each.findingId}`}>{each.text}</li>
              ))}
            </ul>
          </details>
        )}
        <Table
          caption="Areas"
          rows={inspection.progress}
          rowKey={(each) => each.areaId}
          columns={[
            { name: 'Area', cell: (each) => each.title },
            { name: 'Answered', cell: (each) => `${each.answered} of ${each.lines}`, right: true },
            { name: 'Findings', cell: (each) => each.findings || null, right: true },
            { name: 'Not reached', cell: (each) => each.notReached || null, right: true },
          ]}
        />
      </Card>
      <RecordedTwice inspection={inspection} />
      <FindingsReview inspection={inspection} />
      {inspection.workDeclined && (
        <Card title="Work that was not wanted now">
          <SignedWords
            signature={inspection.workDeclined}
            timeZone={inspection.property.timeZone}
            what="Work was declined"
          />
        </Card>
      )}
      <Disagreements inspection={inspection} />
      <Reports inspection={inspection} />
      <Preview id={inspection.id} />
      <p className={css.caution}>{VERDICT_CAUTION}</p>
      <Dialog title="Issue the report" isOpen={issuing} onClose={() => setIssuing(false)}>
        <Issue inspection={inspection} onDone={() => setIssuing(false)} />
      </Dialog>
    </Page>
  )
}

function Issue({ inspection, onDone }: { inspection: InspectionView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [reason, setReason] = useState('')
  const isCorrection = inspection.reports.length > 0
  const issue = useMutation({
    mutationFn: () => http.post<{ version: number }>(`/inspections/${inspection.id}/issue`, { reason }),
    onSuccess: ({ version }) => {
      void queryClient.invalidateQueries({ queryKey: inspectionQueries.all() })
      void queryClient.invalidateQueries({ queryKey: ['homes'] })
      tell(`The report is issued as version ${version} and goes to the customer.`)
      onDone()
    },
  })
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        issue.mutate()
      }}
      style={{ display: 'grid', gap: 16 }}
    >
      <p>
        It is frozen as it stands now and sent to the customer.{' '}
        {isCorrection ? 'The earlier version stays readable.' : 'A later correction is a new version.'}
      </p>
      {isCorrection && (
        <TextArea label="What was corrected" value={reason} onChange={setReason} maxLength={1000} required />
      )}
      <Fault error={issue.error} />
      <Actions>
        <Button look="main" type="submit" isPending={issue.isPending}>
          Issue and send
        </Button>
      </Actions>
    </form>
  )
}

function Reports({ inspection }: { inspection: InspectionView }) {
  if (inspection.reports.length === 0) return null
  return (
    <Card title="Issued">
      <Table
        caption="Issued reports"
        rows={inspection.reports}
        rowKey={(each) => each.id}
        columns={[
          {
            name: 'Version',
            cell: (each) => <a href={urlOf(`/reports/${each.id}/pdf`)}>Version {each.version}, PDF</a>,
          },
          { name: 'Issued', cell: (each) => formatInstant(each.issuedAt) },
          { name: 'Why', cell: (each) => each.reason || 'First issue' },
          { name: 'SHA-256', cell: (each) => <code className={css.hash}>{each.sha256}</code> },
        ]}
      />
    </Card>
  )
}

/** The page as the customer would read it now. */
function Preview({ id }: { id: string }) {
  const [shown, setShown] = useState(false)
  const preview = useQuery({ ...inspectionQueries.preview(id), enabled: shown })
  return (
    <Card
      title="As the customer would read it"
      actions={<Button onPress={() => setShown(!shown)}>{shown ? 'Hide' : 'Show'}</Button>}
    >
      {shown && preview.isPending && <Waiting />}
      {shown && preview.isError && <Failed error={preview.error} retry={() => void preview.refetch()} />}
      {shown && preview.data && (
        <iframe
          className={css.preview}
          title="The report"
          sandbox="allow-same-origin"
          srcDoc={preview.data.html}
        />
      )}
    </Card>
  )
}
