/** What a controller or microcontroller would have done: every commanded index it stopped or passed at, and where it waited for a mark. */
export interface Replayed {
  /** Commanded index after every pulse, from 0. */
  readonly path: readonly number[]
  readonly marks: readonly number[]
}

const walk = (path: number[], to: number): void => {
  let at = path.at(-1) ?? 0
  while (at !== to) {
    at += Math.sign(to - at)
    path.push(at)
  }
}

/**
 * A small G-code interpreter of its own: G90, G92, G1, G4, comments in brackets. It turns axis units into pulses as a controller
 * does, to the nearest one, and refuses any word it does not know. A dwell while the current is on counts as a mark.
 */
export const replayGcode = (text: string, unitsPerCommand: number): Replayed => {
  const path = [0]
  const marks: number[] = []
  let on = false
  let absolute = false
  for (const line of text.split('\n')) {
    const words = line
      .replace(/\([^()]*\)/g, '')
      .trim()
      .split(/\s+/)
      .filter(Boolean)
    const value = (letter: RegExp): number => Number(words.find((word) => letter.test(word))?.slice(1))
    switch (words[0]) {
      case undefined:
      case 'G94':
      case 'M2':
        break
      case 'G90':
        absolute = true
        break
      case 'M17':
        on = true
        break
      case 'M18':
        on = false
        break
      case 'G92':
        if (value(/^[A-CU-Z]/) !== 0) throw new Error(line)
        break
      case 'G1': {
        if (!absolute || !(value(/^F/) > 0)) throw new Error(line)
        const exact = value(/^[A-CU-Z]/) / unitsPerCommand
        if (Math.abs(exact - Math.round(exact)) > 1e-3) throw new Error(`${line} is between two pulses: ${exact}`)
        walk(path, Math.round(exact))
        break
      }
      case 'G4':
        if (!(value(/^P/) >= 0)) throw new Error(line)
        if (on) marks.push(path.at(-1) ?? 0)
        break
      default:
        throw new Error(`unknown word in ${line}`)
    }
  }
  return { path, marks }
}

const legRow = /\{(RUN|MARKS|COOL), (-?\d+)L?, (\d+)UL\}/g

/** Walks the table of legs in a sketch as its program would. */
export const replaySketch = (text: string): Replayed => {
  const path = [0]
  const marks: number[] = []
  const rows = [...text.matchAll(legRow)]
  if (rows.length !== Number(/LEG_COUNT = (\d+);/.exec(text)?.[1])) throw new Error('the count of legs is wrong')
  for (const [, kind, to] of rows) {
    if (kind === 'COOL') continue
    const before = path.length
    if (kind === 'MARKS') marks.push(path.at(-1) ?? 0)
    walk(path, Number(to))
    if (kind === 'MARKS') marks.push(...path.slice(before))
  }
  return { path, marks }
}
