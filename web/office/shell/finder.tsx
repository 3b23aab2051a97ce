import { useNavigate } from '@tanstack/react-router'
import { type FormEvent, useEffect, useRef, useState } from 'react'
import css from './finder.module.css'

/** Search over names, addresses and phones, from anywhere: "/" brings the cursor here. */
export function Finder() {
  const navigate = useNavigate()
  const input = useRef<HTMLInputElement>(null)
  const [text, setText] = useState('')

  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const typing =
        event.target instanceof HTMLElement &&
        event.target.closest('input, textarea, select, [contenteditable]')
      if (event.key !== '/' || typing || event.ctrlKey || event.metaKey || event.altKey) return
      event.preventDefault()
      input.current?.focus()
    }
    document.addEventListener('keydown', onKey)
    return () => document.removeEventListener('keydown', onKey)
  }, [])

  const search = (event: FormEvent) => {
    event.preventDefault()
    if (text.trim()) void navigate({ to: '/search', search: { q: text.trim() } })
  }
  return (
    <form role="search" className={css.finder} onSubmit={search}>
      <label className="visually-hidden" htmlFor="finder">
        Search names, addresses, phones
      </label>
      <input
        ref={input}
        id="finder"
        type="search"
        value={text}
        placeholder="Name, address or phone"
        onChange={(event) => setText(event.target.value)}
        autoComplete="off"
      />
    </form>
  )
}
