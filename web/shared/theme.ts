export const THEMES = { system: 'As the device', light: 'Light', dark: 'Dark' } as const
export type Theme = keyof typeof THEMES
const KEY = 'theme'

export function theTheme(): Theme {
  const stored = localStorage.getItem(KEY)
  return stored && stored in THEMES ? (stored as Theme) : 'system'
}

export function applyTheme(theme: Theme = theTheme()): void {
  localStorage.setItem(KEY, theme)
  if (theme === 'system') delete document.documentElement.dataset['theme']
  else document.documentElement.dataset['theme'] = theme
}
