declare const unit: unique symbol

/** Numbers that carry their unit in the type; only core/quantity grants them. */
export type Degrees = number & { readonly [unit]: 'deg' }
export type Radians = number & { readonly [unit]: 'rad' }
export type Millimetres = number & { readonly [unit]: 'mm' }
export type Pixels = number & { readonly [unit]: 'px' }
export type Microsteps = number & { readonly [unit]: 'microstep' }

export const degrees = (value: number): Degrees => value as Degrees
export const radians = (value: number): Radians => value as Radians
export const millimetres = (value: number): Millimetres => value as Millimetres
export const pixels = (value: number): Pixels => value as Pixels
export const microsteps = (value: number): Microsteps => value as Microsteps

export const degreesFromRadians = (angle: number): Degrees => degrees((angle * 180) / Math.PI)
export const radiansFromDegrees = (angle: number): Radians => radians((angle * Math.PI) / 180)

/** The same direction in (−180°, 180°]. */
export const wrapDegrees = (angle: number): Degrees => {
  const turned = angle - 360 * Math.floor(angle / 360)
  return degrees(turned > 180 ? turned - 360 : turned)
}
