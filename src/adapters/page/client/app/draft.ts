import type { Work } from '#core/review/work'

export interface Draft {
  readonly base: string
  readonly work: Work
}

const place = (id: string): string => `bench:draft:${id}`

/** Keeps a state that is not on the disk yet, until it is; a browser without room for it still has the page itself. */
export const keepDraft = (id: string, base: string, work: Work): void => {
  try {
    localStorage.setItem(place(id), JSON.stringify({ base, work }))
  } catch {
    localStorage.removeItem(place(id))
  }
}

export const dropDraft = (id: string): void => localStorage.removeItem(place(id))

export const draftOf = (id: string): Draft | null => {
  try {
    return JSON.parse(localStorage.getItem(place(id)) ?? 'null') as Draft | null
  } catch {
    return null
  }
}
