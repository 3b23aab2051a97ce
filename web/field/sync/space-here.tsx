import { useLiveQuery } from 'dexie-react-hooks'
import { useEffect, useState } from 'react'
import { askToKeep, isTight, type Space, spaceOnDevice } from '../offline/storage-space.ts'
import { store } from '../offline/use-field.ts'

/** How much this device holds and may still hold, and whether the browser will keep it. */
export function SpaceHere() {
  const [space, setSpace] = useState<Space | null>(null)
  // Looked at again whenever something is kept or removed.
  const kept = useLiveQuery(async () => [await store.visits.count(), await store.photos.count()] as const)
  const look = () => void spaceOnDevice().then(setSpace)
  useEffect(look, [kept])
  return (
    <section className="box">
      <h2>On this device</h2>
      {kept && (
        <p>
          {counted(kept[0], 'visit')} and {counted(kept[1], 'picture')}. What the office has is removed from
          here when the visit is past; what it has not stays.
        </p>
      )}
      {space && <Gauge space={space} />}
      {space && !space.isLasting && (
        <>
          <p>The browser may clear it when the disk is full.</p>
          <button type="button" className="press" onClick={() => void askToKeep().then(look)}>
            Ask the browser to keep it
          </button>
        </>
      )}
      {space?.isLasting && <p className="soft">The browser keeps it, also when the disk is full.</p>}
      {!window.isSecureContext && (
        <p className="caution">
          This address does not begin with https, so the app cannot open without signal. Tell the office.
        </p>
      )}
    </section>
  )
}

function Gauge({ space }: { space: Space }) {
  const words = `${megabytes(space.used)} used, ${megabytes(space.free)} free`
  return (
    <>
      <p>{words}</p>
      <meter
        style={{ inlineSize: '100%' }}
        min={0}
        max={space.used + space.free}
        value={space.used}
        aria-label="Space used"
      >
        {words}
      </meter>
      {isTight(space) && (
        <p className="caution">
          Nearly full: pictures may soon find no room. Send what waits, and remove videos and apps that are
          not needed.
        </p>
      )}
    </>
  )
}

const counted = (count: number, word: string) => `${count} ${word}${count === 1 ? '' : 's'}`

function megabytes(bytes: number): string {
  const mb = bytes / 1_048_576
  if (mb >= 10_000) return `${Math.round(mb / 1024)} GB`
  return mb > 0 && mb < 1 ? 'less than 1 MB' : `${Math.round(mb)} MB`
}
