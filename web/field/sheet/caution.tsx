/** Safety words before the work they belong to: whole at the first line of a screen, then one sentence and a tap. */
export function Caution({ words, isFirst }: { words: string; isFirst: boolean }) {
  const end = words.indexOf('. ') + 1
  if (isFirst || end === 0) return <p className="caution">{words}</p>
  return (
    <details className="caution">
      <summary>{words.slice(0, end)}</summary>
      <p>{words.slice(end).trim()}</p>
    </details>
  )
}
