import { randomBytes, randomInt } from 'node:crypto'

/** Keys that let a page in, and the one-time code that gives a phone one of its own. */
export interface Keys {
  readonly all: () => readonly string[]
  readonly newCode: () => { readonly code: string; readonly minutes: number }
  /** A key for the code, once; null when it is wrong, old or used. */
  readonly join: (code: string) => string | null
}

const minutes = 5
const tries = 5

export const freshKey = (): string => randomBytes(24).toString('base64url')

/** @param now clock in ms, given so that a test can hold it */
export const keysFrom = (first: string, now: () => number = Date.now): Keys => {
  const known = [first]
  let code: { readonly text: string; readonly until: number; left: number } | null = null
  return {
    all: () => known,
    newCode: () => {
      const text = String(randomInt(0, 100_000_000)).padStart(8, '0')
      code = { text, until: now() + minutes * 60_000, left: tries }
      return { code: text, minutes }
    },
    join: (given) => {
      if (!code || now() > code.until || code.left <= 0) return null
      code.left -= 1
      if (given.replaceAll(/\D/g, '') !== code.text) return null
      code = null
      const key = freshKey()
      known.push(key)
      return key
    },
  }
}
