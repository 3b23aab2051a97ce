import { type ReactNode, useEffect } from 'react'
import css from './page.module.css'

/** A screen: its title (also of the browser's tab), what can be done on it, and its content. */
export function Page({
  title,
  under,
  actions,
  children,
}: {
  title: string
  under?: ReactNode
  actions?: ReactNode
  children: ReactNode
}) {
  useEffect(() => {
    document.title = `${title} · Watchlamp`
  }, [title])
  return (
    <div className={css.page}>
      <header className={css.head}>
        <div>
          <h1>{title}</h1>
          {under && <div className={css.under}>{under}</div>}
        </div>
        {actions && <div className={css.actions}>{actions}</div>}
      </header>
      {children}
    </div>
  )
}

export function Card({
  title,
  actions,
  children,
}: {
  title?: ReactNode
  actions?: ReactNode
  children: ReactNode
}) {
  return (
    <section className={css.card}>
      {(title || actions) && (
        <header className={css.cardHead}>
          {title && <h2>{title}</h2>}
          {actions}
        </header>
      )}
      {children}
    </section>
  )
}

/** Name and value pairs. */
export function Facts({ facts }: { facts: readonly (readonly [string, ReactNode])[] }) {
  return (
    <dl className={css.facts}>
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value ?? '—'}</dd>
        </div>
      ))}
    </dl>
  )
}

/** A state in a word; `tone` only underlines it. */
export function Tag({
  tone = 'plain',
  children,
}: {
  tone?: 'plain' | 'good' | 'lamp' | 'bad' | 'calm'
  children: ReactNode
}) {
  return (
    <span className={css.tag} data-tone={tone}>
      {children}
    </span>
  )
}
