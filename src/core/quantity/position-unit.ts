/** Units a position may be typed in, and what one of each is worth in degrees or millimetres. */
export const angleUnits = { deg: 1, arcmin: 1 / 60, rad: 180 / Math.PI } as const
export const lengthUnits = { mm: 1, in: 25.4 } as const

export type AngleUnit = keyof typeof angleUnits
export type LengthUnit = keyof typeof lengthUnits
export type PositionUnit = AngleUnit | LengthUnit

export const positionUnits: readonly PositionUnit[] = ['deg', 'arcmin', 'rad', 'mm', 'in']

export const isPositionUnit = (text: string): text is PositionUnit => (positionUnits as readonly string[]).includes(text)

export const isAngleUnit = (unit: PositionUnit): unit is AngleUnit => unit in angleUnits

/** Degrees per unit for an angle, millimetres per unit for a length. */
export const sizeOf = (unit: PositionUnit): number => (isAngleUnit(unit) ? angleUnits[unit] : lengthUnits[unit])
