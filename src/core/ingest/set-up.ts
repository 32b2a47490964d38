import { oneLine } from '#core/quantity/one-line'
import { isAngleUnit, type PositionUnit, positionUnits, readPositionUnit, sizeOf } from '#core/quantity/position-unit'
import { readLoneNumber, readNumber } from '#core/quantity/read-number'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { GearStage, MarkPart, Stated, Trace } from './trace.ts'

export const rigNames = ['pointer', 'arc', 'chord', 'mirror'] as const
export type RigName = (typeof rigNames)[number]

/** What the head of a trace or the options of a command say; lengths in mm, only what was said. */
export interface SetUp {
  readonly motor?: string
  readonly stepsPerRev?: number
  readonly microsteps?: number
  readonly rig?: RigName
  readonly unit?: PositionUnit
  readonly radiusMm?: Stated
  readonly distanceMm?: Stated
  readonly footMm?: Stated
  readonly ratio?: 1 | 2
  readonly gears?: readonly GearStage[]
  readonly markUncertainty?: { readonly value: number; readonly unit: PositionUnit }
  /** Parts of a mark's uncertainty told apart. */
  readonly lineWidth?: MarkPart
  readonly parallax?: MarkPart
  readonly hand?: MarkPart
  readonly commands?: number
  readonly fullStepCommand?: number
  /** `none`: the marks have no order of their own (a photo's) and are read around the dial or along the line. */
  readonly order?: 'made' | 'none'
  /** Standard uncertainties that all marks share, deg at the mark. */
  readonly shared?: Trace['common']
}

type Reader = (text: string) => Partial<SetUp> | string

/** A positive whole number, or the complaint about it. */
const whole =
  (key: keyof SetUp, least: number, most: number): Reader =>
  (text) => {
    const value = readNumber(text)
    const fits = value !== null && Number.isInteger(value) && value >= least && value <= most
    return fits ? { [key]: value } : `must be a whole number from ${least} to ${most}`
  }

/** Millimetres per unit of a length of the rig, which may stand in metres, too; null for what is none. */
const lengthUnit = (text: string): number | null => {
  if (/^m(?:et(?:re|er)s?)?$/i.test(text)) return 1000
  const name = readPositionUnit(text)
  return name === null || isAngleUnit(name) ? null : sizeOf(name)
}

/** "80 mm", "80 ± 0.5 mm", "3.15 in", "80 mm ± 0.5 mm" → mm; a bare number is taken as mm. */
export const readLength = (text: string): Stated | null => {
  const match = /^([^\s±+a-z]\S*?)\s*([a-z]+)?\s*(?:(?:±|\+\/-)\s*(\S+?)\s*([a-z]+)?)?$/i.exec(text.trim())
  const value = readLoneNumber(match?.[1] ?? '')
  const u = match?.[3] === undefined ? 0 : readLoneNumber(match[3])
  if (!match || value === null || u === null || u < 0) return null
  const tail = match[4] ?? match[2] ?? 'mm'
  const [size, uSize] = [lengthUnit(match[2] ?? tail), lengthUnit(tail)]
  return size === null || uSize === null ? null : { value: value * size, u: u * uSize }
}

const length =
  (key: 'radiusMm' | 'distanceMm' | 'footMm'): Reader =>
  (text) => {
    const stated = readLength(text)
    const fits = stated !== null && (key === 'footMm' || stated.value > 0)
    return fits ? { [key]: stated } : 'must be a length such as 80 mm or 80 ± 0.5 mm'
  }

const rig: Reader = (text) => {
  const name = rigNames.find((known) => known === text.toLowerCase())
  return name ? { rig: name } : `must be one of ${rigNames.join(', ')}`
}

const unit: Reader = (text) => {
  const name = readPositionUnit(text)
  return name ? { unit: name } : `must be one of ${positionUnits.join(', ')}`
}

const ratio: Reader = (text) => {
  const value = readNumber(text)
  return value === 1 || value === 2 ? { ratio: value } : 'must be 2 (mirror on the shaft) or 1 (light source on the shaft)'
}

/** "0.1 deg", "0.2 mm"; a bare number is taken as deg. */
const readAtMark = (text: string): { readonly value: number; readonly unit: PositionUnit } | null => {
  const match = /^(.*\d\.?)\s*(\D*)$/.exec(text)
  const value = readLoneNumber(match?.[1] ?? '')
  const name = readPositionUnit(match?.[2] || 'deg')
  return value === null || value < 0 || !name ? null : { value, unit: name }
}

const atMark = 'must be zero or more with a unit, such as 0.1 deg or 0.2 mm'

const markUncertainty: Reader = (text) => {
  const stated = readAtMark(text)
  return stated ? { markUncertainty: stated } : atMark
}

const markPart =
  (key: 'lineWidth' | 'parallax' | 'hand', source: MarkPart['source']): Reader =>
  (text) => {
    const stated = readAtMark(text)
    return stated ? { [key]: { source, ...stated } } : atMark
  }

/** "17:8, 40:10": driven teeth to driving teeth, motor side first. */
const gears: Reader = (text) => {
  const stages = text.split(/[,;]\s*|\s+/).map((stage) => /^(\d+):(\d+)$/.exec(stage.trim()))
  if (stages.some((stage) => !stage || Number(stage[1]) < 1 || Number(stage[2]) < 1 || Number(stage[1]) > 100_000 || Number(stage[2]) > 100_000)) return 'must be tooth counts such as 17:8 (driven : driving), several with commas'
  return { gears: stages.map((stage) => ({ drivenTeeth: Number(stage?.[1]), drivingTeeth: Number(stage?.[2]) })) }
}

const order: Reader = (text) => {
  const name = text.toLowerCase()
  return name === 'made' || name === 'none' ? { order: name } : 'must be made (as the marks were made) or none (a photo’s)'
}

/** "centre 0.013 deg", several with commas. */
const shared: Reader = (text) => {
  const parts = text.split(/,\s*/).map((part) => /^(\S.*?)\s+(\S+)\s*deg$/i.exec(part.trim()))
  const all = parts.map((part) => ({ source: part?.[1] ?? '', uDeg: readNumber(part?.[2] ?? '') ?? -1 }))
  return all.every(({ uDeg }) => uDeg >= 0) ? { shared: all } : 'must be a source and what it adds to every mark, such as centre 0.013 deg'
}

/** Every key of the head of a trace, as written in the file. */
const readers: Readonly<Record<string, Reader>> = {
  motor: (text) => ({ motor: oneLine(text) }),
  'steps-per-rev': whole('stepsPerRev', 1, 100_000),
  microsteps: whole('microsteps', 1, 10_000),
  rig,
  'position-unit': unit,
  radius: length('radiusMm'),
  distance: length('distanceMm'),
  foot: length('footMm'),
  ratio,
  gears,
  'mark-uncertainty': markUncertainty,
  'line-width': markPart('lineWidth', 'line width'),
  parallax: markPart('parallax', 'parallax'),
  hand: markPart('hand', 'hand'),
  commands: whole('commands', 1, 10_000_000),
  'full-step-command': whole('fullStepCommand', 0, 10_000_000),
  order,
  'shared-uncertainty': shared,
}

export const setUpKeys: readonly string[] = Object.keys(readers)

/** What was said before and after: the later wins, but every shared uncertainty counts. */
export const withPart = (earlier: SetUp, part: SetUp): SetUp => ({
  ...earlier,
  ...part,
  ...(part.shared ? { shared: [...(earlier.shared ?? []), ...part.shared] } : {}),
})

/** What a photo without a scale is written in: lengths that nothing turns into mm. */
const inPixels = (key: string, text: string): boolean => key === 'position-unit' && text.trim().toLowerCase() === 'px'

/** What gives the positions of an unscaled strip their unit. */
const scaleRemedy = 'detect it again with --scale (two points of the photo a known distance apart) or with --tick (what one tick of the ruler beside the marks is), or measure from the first mark to the last with a ruler, turn every position and its uncertainty into mm by it, and write position-unit: mm'

/** One `key: value` of the set-up; null when the key is not one of ours. */
export const readSetUp = (key: string, text: string, where: string): Partial<SetUp> | Unmeasurable | null => {
  if (inPixels(key, text)) return unmeasurable('the positions are px of a photo, whose scale is not known', where, scaleRemedy)
  const read = Object.hasOwn(readers, key) ? readers[key] : undefined
  const outcome = read?.(text.trim())
  if (outcome === undefined) return null
  return typeof outcome === 'string' ? unmeasurable(`${key} ${outcome}, not "${text.trim()}"`, where, `correct ${key}`) : outcome
}
