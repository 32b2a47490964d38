import { createStore } from './store.ts'

export type Theme = 'auto' | 'light' | 'dark'

const place = 'bench:theme'
const isTheme = (text: string | null): text is Theme => text === 'auto' || text === 'light' || text === 'dark'
const kept = localStorage.getItem(place)

/** `turn` grows with every change of the colours in force, so that canvases know to draw again. */
export const theme = createStore<{ readonly theme: Theme; readonly turn: number }>({ theme: isTheme(kept) ? kept : 'auto', turn: 0 })

const apply = (): void => {
  document.documentElement.dataset['theme'] = theme.get().theme
  theme.set({ turn: theme.get().turn + 1 })
}

export const chooseTheme = (next: Theme): void => {
  localStorage.setItem(place, next)
  theme.set({ theme: next })
  apply()
}

export const startTheme = (): void => {
  apply()
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', apply)
}

/** Whether the page is dark as it stands, by choice or by what the system prefers. */
export const isDark = (): boolean => getComputedStyle(document.documentElement).colorScheme === 'dark'

/** A colour of the page as it is now, for canvases and plots. */
export const colour = (name: string): string => getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim()
