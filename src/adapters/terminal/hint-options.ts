import type { Command } from 'commander'
import type { Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { readLoneNumber, readNumber } from '#core/quantity/read-number'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

const gather = (text: string, earlier: readonly string[] = []): readonly string[] => [...earlier, text]

/** What a person can tell about a photo; lengths in px of the upright photo. */
export const withHintOptions = (command: Command): Command =>
  command
    .option('--paper <size>', 'a4, letter or WxH in mm')
    .option('--centre <x,y>', 'shaft centre')
    .option('--corners <x,y,…>', 'the four corners of the sheet, any order')
    .option('--marks <n>', 'how many marks there should be')
    .option('--radius-range <min,max>', 'marks lie between these radii')
    .option('--ink <tone>', 'dark or light, against the paper (told from the photo if left out)')
    .option('--scale <x,y,x,y,mm>', 'strip: two points and how far apart they are in mm')
    .option('--tick <mm>', 'strip: what one tick of a ruler beside the marks is')
    .option('--ignore <x,y,w,h>', 'a region to leave out (repeatable)', gather)

export interface HintTexts {
  readonly rig?: string
  readonly paper?: string
  readonly centre?: string
  readonly corners?: string
  readonly marks?: string
  readonly radiusRange?: string
  readonly ink?: string
  readonly scale?: string
  readonly tick?: string
  readonly ignore?: readonly string[]
}

/** Numbers with commas between them, or with semicolons, where a comma is a decimal comma. */
const numbers = (text: string, howMany: number): number[] | null => {
  const values = text.includes(';') ? text.split(';').map(readLoneNumber) : text.split(',').map((part) => readNumber(part))
  return values.length === howMany && values.every((value) => value !== null) ? (values as number[]) : null
}

const papers: Readonly<Record<string, readonly [number, number]>> = { a4: [210, 297], letter: [215.9, 279.4] }

const paperOf = (text: string): readonly [number, number] | null => {
  const named = papers[text.toLowerCase()]
  const [width, height] = numbers(text.toLowerCase().replace(/mm$/, '').replace(/[x×]/, ';'), 2) ?? []
  return named ?? (width && height && width > 10 && height > 10 ? [width, height] : null)
}

/** Two points and their distance in mm. */
const scaleOf = (text: string): Partial<Hints> | null => {
  const values = numbers(text, 5) ?? []
  const [from, to] = pairs(values.slice(0, 4))
  const mm = values[4] ?? 0
  return from && to && mm > 0 && Math.hypot(to[0] - from[0], to[1] - from[1]) > 1 ? { scalePx: { from, to, mm } } : null
}

const tickOf = (text: string): Partial<Hints> | null => {
  const tickMm = readLoneNumber(text.replace(/\s*mm$/, ''))
  return tickMm !== null && tickMm > 0 && tickMm < 1000 ? { tickMm } : null
}

const wrong = (option: string, wanted: string): Unmeasurable => unmeasurable(`the option needs ${wanted}`, option, 'correct it, with decimal points, or with semicolons between numbers that have decimal commas')

const pairs = (values: readonly number[]): Point[] => values.flatMap((value, i) => (i % 2 === 0 ? [[value, values[i + 1] ?? 0] as const] : []))

type Reading = readonly [option: string, text: string | undefined, wanted: string, read: (text: string) => Partial<Hints> | null]

const readings = (texts: HintTexts): Reading[] => [
  ['--rig', texts.rig, 'pointer or mirror for a photo', (text) => (text === 'pointer' || text === 'mirror' ? { rig: text } : null)],
  ['--paper', texts.paper, 'a4, letter or WxH in mm', (text) => { const paperMm = paperOf(text); return paperMm && { paperMm } }],
  ['--centre', texts.centre, 'two numbers x,y', (text) => { const centrePx = pairs(numbers(text, 2) ?? [])[0]; return centrePx ? { centrePx } : null }],
  ['--corners', texts.corners, 'eight numbers x,y,x,y,x,y,x,y', (text) => { const [a, b, c, d] = pairs(numbers(text, 8) ?? []); return a && b && c && d ? { cornersPx: [a, b, c, d] } : null }],
  ['--marks', texts.marks, 'a whole number', (text) => { const value = readNumber(text); return value !== null && Number.isInteger(value) && value > 0 ? { expectedMarks: value } : null }],
  ['--radius-range', texts.radiusRange, 'two numbers min,max', (text) => { const [min, max] = numbers(text, 2) ?? []; return min !== undefined && max !== undefined && max > min && min >= 0 ? { radiusRangePx: [min, max] } : null }],
  ['--ink', texts.ink, 'dark or light', (text) => (text === 'dark' || text === 'light' ? { ink: text } : null)],
  ['--scale', texts.scale, 'two points and their distance x,y,x,y,mm', scaleOf],
  ['--tick', texts.tick, 'a length in mm', tickOf],
]

const ignoredOf = (texts: readonly string[]): Partial<Hints> | Unmeasurable => {
  const regions = texts.map((text) => numbers(text, 4))
  if (regions.some((region) => region === null)) return wrong('--ignore', 'four numbers x,y,w,h')
  return { ignorePx: regions.map((region) => { const [x = 0, y = 0, width = 0, height = 0] = region ?? []; return { x, y, width, height } }) }
}

/** Hints from the command line, or what is wrong with one of them. */
export const hintsOf = (texts: HintTexts): Hints | Unmeasurable => {
  let hints: Hints = {}
  for (const [option, text, wanted, read] of readings(texts)) {
    if (text === undefined) continue
    const part = read(text)
    if (part === null) return wrong(option, wanted)
    hints = { ...hints, ...part }
  }
  const ignored = texts.ignore ? ignoredOf(texts.ignore) : {}
  return isUnmeasurable(ignored) ? ignored : { ...hints, ...ignored }
}
