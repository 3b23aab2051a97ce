import { Top } from '../parts/top.tsx'

export function Missing({ loading }: { loading: boolean }) {
  return (
    <>
      <Top
        title={loading ? 'Opening…' : 'Not on this device'}
        back={{ place: { at: 'my-day' }, words: 'my day' }}
      />
      <main className="content">
        {!loading && <p>This visit is not among yours for the next days, or has not been fetched yet.</p>}
      </main>
    </>
  )
}
