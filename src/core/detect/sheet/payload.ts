import * as z from 'zod'
import { sheetVersions } from './sheet-version.ts'

/** Most bytes of UTF-8 that a name may take in the code, so that its squares stay large. */
export const nameBytes = 48

const bytesOf = (text: string): number =>
  Array.from(text).reduce((sum, letter) => {
    const point = letter.codePointAt(0) ?? 0
    return sum + (point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4)
  }, 0)

/** Control and format characters, line separators and halves of surrogate pairs have no place in a name. */
const unfit = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]+/gu

/** A name as the code can carry it: composed, unfit characters become spaces, cut at whole letters to `nameBytes`. */
export const fitName = (name: string): string => {
  const clean = name.normalize('NFC').replace(unfit, ' ').replace(/ +/g, ' ').trim()
  let kept = ''
  for (const letter of clean) {
    if (bytesOf(kept + letter) > nameBytes) break
    kept += letter
  }
  return kept.trim()
}

const payloadSchema = z.object({
  version: z.literal(sheetVersions),
  rig: z.enum(['pointer', 'mirror']),
  paper: z.enum(['a4', 'letter']),
  /** Page of the sheet, 0 = the first printed, and how many there are. */
  page: z.int().min(0).max(99),
  pages: z.int().min(1).max(99),
  /** Pointer length or wall distance, mm, to 0.1 mm. */
  lengthMm: z.number().positive().max(99_999),
  stepsPerRev: z.int().min(1).max(100_000).nullable(),
  microsteps: z.int().min(1).max(65_536).nullable(),
  /** What a ruler said of the 100 mm bar, to 0.01 mm; 100 when nobody measured. */
  barMm: z.number().min(50).max(200),
  motor: z.string().refine((name) => fitName(name) === name, 'not a name the code can carry'),
})

/** What a sheet's code says. */
export type SheetPayload = Readonly<z.infer<typeof payloadSchema>>

/** A code that is not one of this sheet's, and why. */
export interface BadCode {
  readonly kind: 'bad-code'
  readonly why: string
}

const mark = 'SWS'
const rigLetters = { pointer: 'P', mirror: 'M' } as const
const paperLetters = { a4: 'A', letter: 'L' } as const

/**
 * The code's text: `SWS2:P:A:1/3:80:200:16:100:name`. Numbers are decimal, an unknown one is left out, the name comes
 * last and may hold colons. RangeError when a value is out of its range.
 */
export const encodePayload = (payload: SheetPayload): string => {
  const checked = payloadSchema.safeParse({ ...payload, motor: fitName(payload.motor) })
  if (!checked.success) throw new RangeError(`sheet code: ${z.prettifyError(checked.error)}`)
  const { version, rig, paper, page, pages, lengthMm, stepsPerRev, microsteps, barMm, motor } = checked.data
  const rounded = (value: number, places: number) => String(Number(value.toFixed(places)))
  return [
    `${mark}${version}`,
    rigLetters[rig],
    paperLetters[paper],
    `${page + 1}/${pages}`,
    rounded(lengthMm, 1),
    stepsPerRev ?? '',
    microsteps ?? '',
    rounded(barMm, 2),
    motor,
  ].join(':')
}

const plainNumber = (text: string | undefined): number | null =>
  text !== undefined && /^\d{1,7}(\.\d{1,2})?$/.test(text) ? Number(text) : null

const nameOfLetter = <T extends string>(letters: Readonly<Record<T, string>>, letter: string | undefined): T | null =>
  (Object.keys(letters) as T[]).find((name) => letters[name] === letter) ?? null

/** Reads a code's text; a text that is not this sheet's code, or of a version not known here, comes back as why. */
export const decodePayload = (text: string): SheetPayload | BadCode => {
  const [head, rig, paper, pages, length, steps, microsteps, bar, ...name] = text.split(':')
  if (!head || !/^SWS\d{1,3}$/.test(head)) return { kind: 'bad-code', why: 'not the code of a marking sheet' }
  const version = Number(head.slice(mark.length))
  if (!sheetVersions.some((known) => known === version)) {
    return { kind: 'bad-code', why: `sheet version ${version} is not known here, only ${sheetVersions.join(' and ')}` }
  }
  const [page, count] = (pages ?? '').split('/')
  const read = payloadSchema.safeParse({
    version,
    rig: nameOfLetter(rigLetters, rig),
    paper: nameOfLetter(paperLetters, paper),
    page: (plainNumber(page) ?? 0) - 1,
    pages: plainNumber(count),
    lengthMm: plainNumber(length),
    stepsPerRev: steps === '' ? null : (plainNumber(steps) ?? Number.NaN),
    microsteps: microsteps === '' ? null : (plainNumber(microsteps) ?? Number.NaN),
    barMm: plainNumber(bar),
    motor: name.join(':'),
  })
  return read.success ? read.data : { kind: 'bad-code', why: 'a damaged code of a marking sheet' }
}
