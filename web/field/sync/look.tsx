import { useId, useState } from 'react'
import { applyTheme, type Theme, THEMES, theTheme } from '../../shared/theme.ts'

/** Colours for the light one stands in, remembered on this device. */
export function Look() {
  const [theme, setTheme] = useState(theTheme())
  const id = useId()
  return (
    <section className="box">
      <h2 id={id}>Colours</h2>
      <div className="row" role="group" aria-labelledby={id}>
        {(Object.entries(THEMES) as [Theme, string][]).map(([key, words]) => (
          <button
            key={key}
            type="button"
            aria-pressed={theme === key}
            className="press"
            onClick={() => {
              applyTheme(key)
              setTheme(key)
            }}
          >
            {words}
          </button>
        ))}
      </div>
    </section>
  )
}
