export const THEMES = {
  system: 'As the device',
  light: 'Light',
  dark: 'Dark',
  contrast: 'High contrast',
} as const
export type Theme = keyof typeof THEMES
const KEY = 'theme'

/** Chosen on this device; as the device itself until then. */
export function theTheme(): Theme {
  const stored = localStorage.getItem(KEY)
  return stored && stored in THEMES ? (stored as Theme) : 'system'
}

export function applyTheme(theme: Theme = theTheme()): void {
  try {
    localStorage.setItem(KEY, theme)
  } catch {
    // A full disk: the colours change, and are not remembered.
  }
  if (theme === 'system') delete document.documentElement.dataset['theme']
  else document.documentElement.dataset['theme'] = theme
}
