import { useSyncExternalStore } from 'react'

export const themes = ['paper', 'shed', 'glare'] as const
export type Theme = (typeof themes)[number]

/** Names for people: what the theme is for, not what it is called inside. */
export const themeName: Record<Theme, string> = { paper: 'Paper', shed: 'Dark shed', glare: 'Bright sun' }

const ground: Record<Theme, string> = { paper: '#f5f2e8', shed: '#10171d', glare: '#ffffff' }
const heard = new Set<() => void>()

function current(): Theme {
  const set = document.documentElement.dataset.theme
  return themes.find((theme) => theme === set) ?? 'paper'
}

function show(theme: Theme) {
  document.documentElement.dataset.theme = theme
  document.querySelector('meta[name="theme-color"]')?.setAttribute('content', ground[theme])
  for (const tell of heard) tell()
}

export function setTheme(theme: Theme) {
  try {
    localStorage.setItem('theme', theme)
  } catch {
    // storage refused: the theme holds for this page
  }
  show(theme)
}

/** public/theme.js sets the theme before the first paint; from here on other tabs are followed too. */
export function useTheme(): [Theme, (theme: Theme) => void] {
  const theme = useSyncExternalStore((tell) => {
    heard.add(tell)
    const other = (event: StorageEvent) => {
      const next = event.key === 'theme' && themes.find((name) => name === event.newValue)
      if (next) show(next)
    }
    addEventListener('storage', other)
    return () => {
      heard.delete(tell)
      removeEventListener('storage', other)
    }
  }, current)
  return [theme, setTheme]
}
