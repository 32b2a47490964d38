export type Vector3 = readonly [x: number, y: number, z: number]

export const cross = (a: Vector3, b: Vector3): Vector3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]

export const dot = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

export const times = (factor: number, [x, y, z]: Vector3): Vector3 => [factor * x, factor * y, factor * z]
