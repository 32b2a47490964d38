type Pair = readonly [x: number, y: number]

/**
 * An ellipse as the image of the unit circle under a symmetric positive matrix: point = centre + S·(cos t, sin t).
 * Unlike axes and tilt, these five numbers stay well defined when it is a circle.
 */
export interface EllipseShape {
  readonly centre: Pair
  /** S as [xx, xy, yy]; its eigenvalues are the semi-axes. */
  readonly shape: readonly [xx: number, xy: number, yy: number]
}

/** Semi-axes and the angle from x towards y at which the longer lies, rad, −π/2 < tilt ≤ π/2. */
export interface EllipseAxes {
  readonly major: number
  readonly minor: number
  readonly tilt: number
}

export const ellipseAxes = ({ shape: [xx, xy, yy] }: EllipseShape): EllipseAxes => {
  const middle = (xx + yy) / 2
  const half = Math.hypot((xx - yy) / 2, xy)
  return { major: middle + half, minor: middle - half, tilt: 0.5 * Math.atan2(2 * xy, xx - yy) }
}

export const ellipseFromAxes = (centre: Pair, { major, minor, tilt }: EllipseAxes): EllipseShape => {
  const [c, s] = [Math.cos(tilt), Math.sin(tilt)]
  return { centre, shape: [major * c * c + minor * s * s, (major - minor) * c * s, major * s * s + minor * c * c] }
}

/** Where the point (cos t, sin t) of the unit circle lands. */
export const ellipsePointAt = ({ centre, shape: [xx, xy, yy] }: EllipseShape, t: number): Pair => {
  const [c, s] = [Math.cos(t), Math.sin(t)]
  return [centre[0] + xx * c + xy * s, centre[1] + xy * c + yy * s]
}

/** The nearest place on an ellipse and how far a point is from it. */
export interface Foot {
  /** Positive outside. */
  readonly distance: number
  /** Unit vector of the unit circle's frame that the foot is the image of. */
  readonly unit: Pair
  /** Outward unit normal at the foot. */
  readonly normal: Pair
}

/**
 * Cosine and sine of the foot's parameter for a point in the first quadrant of the axes' frame. Newton's steps on
 * (a·x/(t + a²))² + (b·y/(t + b²))² = 1 from the left, where they cannot overshoot.
 */
const quadrantFoot = (a: number, b: number, x: number, y: number): Pair => {
  if (!(y > 1e-14 * b)) {
    const cos = a > b ? (a * x) / (a * a - b * b) : Number.POSITIVE_INFINITY
    return cos < 1 ? [cos, Math.sqrt(1 - cos * cos)] : [1, 0]
  }
  let t = -b * b + b * y
  for (let i = 0; i < 100; i++) {
    const u = (a * x) / (t + a * a)
    const v = (b * y) / (t + b * b)
    const excess = u * u + v * v - 1
    const step = excess / (2 * ((u * u) / (t + a * a) + (v * v) / (t + b * b)))
    t += step
    if (!(step > 1e-16 * (Math.abs(t) + b * b))) break
  }
  const u = (a * x) / (t + a * a)
  const v = (b * y) / (t + b * b)
  const norm = Math.sqrt(u * u + v * v)
  return [u / norm, v / norm]
}

/** Feet of the perpendiculars from some points; the nearer one where there are several. */
export const feetOn = (ellipse: EllipseShape, points: readonly Pair[]): Foot[] => {
  const { major, minor, tilt } = ellipseAxes(ellipse)
  const c = Math.cos(tilt)
  const s = Math.sin(tilt)
  return points.map((point) => {
    const dx = point[0] - ellipse.centre[0]
    const dy = point[1] - ellipse.centre[1]
    const x = dx * c + dy * s
    const y = dy * c - dx * s
    const foot = quadrantFoot(major, minor, Math.abs(x), Math.abs(y))
    const p = Math.sign(x) * foot[0] || foot[0]
    const q = Math.sign(y) * foot[1] || foot[1]
    const length = Math.sqrt(minor * p * minor * p + major * q * major * q)
    const nx = (minor * p) / length
    const ny = (major * q) / length
    return { distance: nx * (x - major * p) + ny * (y - minor * q), unit: [c * p - s * q, s * p + c * q], normal: [c * nx - s * ny, s * nx + c * ny] }
  })
}
