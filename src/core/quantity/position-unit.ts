/** Units a position may be typed in, and what one of each is worth in degrees or millimetres. */
export const angleUnits = { deg: 1, arcmin: 1 / 60, rad: 180 / Math.PI } as const
export const lengthUnits = { mm: 1, cm: 10, in: 25.4 } as const

export type AngleUnit = keyof typeof angleUnits
export type LengthUnit = keyof typeof lengthUnits
export type PositionUnit = AngleUnit | LengthUnit

export const positionUnits: readonly PositionUnit[] = ['deg', 'arcmin', 'rad', 'mm', 'cm', 'in']

/** Plain words that can mean nothing else; " (inches or arc seconds) and minutes (of an arc or of an hour) are not among them. */
const words: readonly (readonly [RegExp, PositionUnit])[] = [
  [/^(?:°|degrees?)$/, 'deg'],
  [/^(?:′|arc[ -]?minutes?)$/, 'arcmin'],
  [/^radians?$/, 'rad'],
  [/^millimet(?:re|er)s?$/, 'mm'],
  [/^centimet(?:re|er)s?$/, 'cm'],
  [/^inch(?:es)?$/, 'in'],
]

const isPositionUnit = (text: string): text is PositionUnit => (positionUnits as readonly string[]).includes(text)

/** The unit that was written, by its sign or in words; null for anything else. */
export const readPositionUnit = (text: string): PositionUnit | null => {
  const name = text.trim().toLowerCase()
  return isPositionUnit(name) ? name : (words.find(([spelling]) => spelling.test(name))?.[1] ?? null)
}

export const isAngleUnit = (unit: PositionUnit): unit is AngleUnit => unit in angleUnits

/** Degrees per unit for an angle, millimetres per unit for a length. */
export const sizeOf = (unit: PositionUnit): number => (isAngleUnit(unit) ? angleUnits[unit] : lengthUnits[unit])
