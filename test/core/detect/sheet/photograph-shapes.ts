import type { Raster } from '#core/detect/raster'
import { straighten } from '#core/detect/plane-map'
import type { SheetCamera } from '#core/detect/sheet/sheet-camera'
import type { Shape } from '#core/prepare/sheet/shape'
import type { Place } from '#core/detect/sheet/page-size'
import type { Box } from '#core/detect/sheet/zone'
import { applyHomography, type Homography, invertHomography } from '#core/numeric/homography'
import { normal, seededRandom } from '#core/numeric/seeded-random'

/** A simulated photo's camera: pinhole over the sheet's plane, one radial term. Written apart from the code under test, its distortion model aside. */
export interface Shot {
  readonly width: number
  readonly height: number
  readonly tiltDeg: number
  readonly leanDeg: number
  readonly rollDeg: number
  /** Part of the picture's shorter side that 300 mm of paper fill at the aimed point. */
  readonly fill: number
  readonly aim: Place
  readonly k: number
}

export interface Look {
  readonly blurPx: number
  /** Standard deviation, grey levels. */
  readonly noise: number
  readonly seed: number
  /** Boxes of the sheet (mm) that something grey lies over. */
  readonly covers?: readonly Box[]
  readonly mirrored?: boolean
}

const rad = Math.PI / 180

/** Sheet mm → px seen: K·[r1 r2 t] of a camera 1.1 picture widths of focal length away, leaned about the aimed point. */
export const cameraFor = ({ width, height, tiltDeg, leanDeg, rollDeg, fill, aim, k }: Shot): SheetCamera => {
  const focal = 1.1 * Math.max(width, height)
  const distance = (focal * 300) / (fill * Math.min(width, height))
  const [ux, uy] = [Math.cos(leanDeg * rad), Math.sin(leanDeg * rad)]
  const [c, s] = [Math.cos(tiltDeg * rad), Math.sin(tiltDeg * rad)]
  const [cr, sr] = [Math.cos(rollDeg * rad), Math.sin(rollDeg * rad)]
  const a = [c + ux * ux * (1 - c), ux * uy * (1 - c)] as const
  const b = [ux * uy * (1 - c), c + uy * uy * (1 - c)] as const
  const x = [cr * a[0] - sr * b[0], cr * a[1] - sr * b[1]] as const
  const y = [sr * a[0] + cr * b[0], sr * a[1] + cr * b[1]] as const
  const z = [-uy * s, ux * s] as const
  const centrePx = [(width - 1) / 2, (height - 1) / 2] as const
  const row = (v: readonly [number, number], offset: number): readonly [number, number, number] => [v[0], v[1], offset - v[0] * aim[0] - v[1] * aim[1]]
  const [rx, ry, rz] = [row(x, 0), row(y, 0), row(z, distance)]
  const mix = (v: readonly number[], c0: number) => v.map((value, i) => focal * value + c0 * (rz[i] as number))
  const m = [...mix(rx, centrePx[0]), ...mix(ry, centrePx[1]), ...rz]
  return {
    homography: m.map((value) => value / (m[8] as number)) as unknown as Homography,
    radial: { k, centrePx, scalePx: Math.hypot(width, height) / 2 },
  }
}

type Painted = Exclude<Shape, { readonly kind: 'text' }>

const boxOf = (shape: Painted): Box => {
  const about = ([x, y]: Place, r: number): Box => ({ left: x - r, right: x + r, top: y - r, bottom: y + r })
  switch (shape.kind) {
    case 'disc': return about(shape.centre, shape.radius)
    case 'ring': return about(shape.centre, shape.outer)
    case 'arc': return about(shape.centre, shape.radius + shape.width)
    case 'rect': return { left: shape.x, top: shape.y, right: shape.x + shape.width, bottom: shape.y + shape.height }
    case 'line': {
      const [[x0, y0], [x1, y1], w] = [shape.from, shape.to, shape.width]
      return { left: Math.min(x0, x1) - w, right: Math.max(x0, x1) + w, top: Math.min(y0, y1) - w, bottom: Math.max(y0, y1) + w }
    }
  }
}

const covers = (shape: Painted, [x, y]: Place): boolean => {
  switch (shape.kind) {
    case 'disc': return Math.hypot(x - shape.centre[0], y - shape.centre[1]) <= shape.radius
    case 'ring': {
      const r = Math.hypot(x - shape.centre[0], y - shape.centre[1])
      return r <= shape.outer && r >= shape.inner
    }
    case 'arc': {
      const [dx, dy] = [x - shape.centre[0], shape.centre[1] - y]
      if (Math.abs(Math.hypot(dx, dy) - shape.radius) > shape.width / 2) return false
      const turn = (((Math.atan2(dy, dx) / rad - shape.fromDeg) % 360) + 360) % 360
      return turn <= shape.toDeg - shape.fromDeg
    }
    case 'rect': return x >= shape.x && y >= shape.y && x <= shape.x + shape.width && y <= shape.y + shape.height
    case 'line': {
      const [ux, uy] = [shape.to[0] - shape.from[0], shape.to[1] - shape.from[1]]
      const length = Math.hypot(ux, uy)
      const [dx, dy] = [x - shape.from[0], y - shape.from[1]]
      const along = (dx * ux + dy * uy) / length
      return along >= 0 && along <= length && Math.abs(dx * uy - dy * ux) / length <= shape.width / 2
    }
  }
}

const side = 4

const pixelSpan = (box: Box, camera: SheetCamera, size: { readonly width: number; readonly height: number }) => {
  const corners: Place[] = []
  for (let n = 0; n <= 8; n++) {
    const [x, y] = [box.left + ((box.right - box.left) * n) / 8, box.top + ((box.bottom - box.top) * n) / 8]
    corners.push([x, box.top], [x, box.bottom], [box.left, y], [box.right, y])
  }
  const seen = corners.map((corner) => {
    const [x, y] = applyHomography(camera.homography, corner)
    const { k, centrePx: [cx, cy], scalePx } = camera.radial
    const f = 1 + (k * ((x - cx) ** 2 + (y - cy) ** 2)) / scalePx ** 2
    return [cx + (x - cx) * f, cy + (y - cy) * f] as const
  })
  const xs = seen.map(([x]) => x)
  const ys = seen.map(([, y]) => y)
  return {
    x0: Math.max(0, Math.floor(Math.min(...xs)) - 1), x1: Math.min(size.width - 1, Math.ceil(Math.max(...xs)) + 1),
    y0: Math.max(0, Math.floor(Math.min(...ys)) - 1), y1: Math.min(size.height - 1, Math.ceil(Math.max(...ys)) + 1),
  }
}

const blurred = (data: Float32Array, width: number, height: number, sigma: number): Float32Array => {
  if (sigma <= 0) return data
  const reach = Math.ceil(3.5 * sigma)
  const weights = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)))
  const total = weights.reduce((a, b) => a + b, 0)
  const pass = (source: Float32Array, step: number, length: number, lines: number, stride: number): Float32Array => {
    const out = new Float32Array(source.length)
    for (let line = 0; line < lines; line++) {
      for (let i = 0; i < length; i++) {
        let sum = 0
        for (let j = -reach; j <= reach; j++) {
          const at = Math.min(length - 1, Math.max(0, i + j))
          sum += (weights[j + reach] as number) * (source[line * stride + at * step] as number)
        }
        out[line * stride + i * step] = sum / total
      }
    }
    return out
  }
  return pass(pass(data, 1, width, height, width), width, height, width, 1)
}

/** Photo of printed shapes on a dark table under uneven light; SIMULATED. Words are not drawn. */
export const photographShapes = (shapes: readonly Shape[], sheets: readonly Box[], shot: Shot, look: Look): Raster => {
  const camera = cameraFor(shot)
  const { width, height } = shot
  const back = invertHomography(camera.homography)
  const inverse = (p: Place): Place => applyHomography(back, straighten(camera.radial, p))
  const tone = new Float32Array(width * height).fill(0.3)
  const fill = (box: Box, inside: (p: Place) => boolean, { ink, convex }: { ink: number; convex: boolean }) => {
    const { x0, x1, y0, y1 } = pixelSpan(box, camera, shot)
    for (let y = y0; y <= y1; y++) {
      for (let x = x0; x <= x1; x++) {
        const whole = convex && [-0.5, 0.5].every((j) => [-0.5, 0.5].every((i) => inside(inverse([x + i, y + j]))))
        let hits = whole ? side * side : 0
        if (!whole) for (let j = 0; j < side; j++) for (let i = 0; i < side; i++) {
          if (inside(inverse([x + (i + 0.5) / side - 0.5, y + (j + 0.5) / side - 0.5]))) hits++
        }
        const share = hits / (side * side)
        if (share > 0) tone[y * width + x] = (tone[y * width + x] as number) * (1 - share) + ink * share
      }
    }
  }
  const within = (box: Box) => ([x, y]: Place) => x >= box.left && x <= box.right && y >= box.top && y <= box.bottom
  for (const sheet of sheets) fill(sheet, within(sheet), { ink: 1, convex: true })
  for (const shape of shapes) {
    if (shape.kind === 'text') continue
    fill(boxOf(shape), (p) => covers(shape, p), { ink: shape.tone, convex: shape.kind === 'disc' || shape.kind === 'rect' })
  }
  for (const cover of look.covers ?? []) fill(cover, within(cover), { ink: 0.45, convex: true })
  const soft = blurred(tone, width, height, look.blurPx)
  const random = seededRandom(look.seed)
  const grey = new Uint8Array(width * height)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const light = 0.75 + 0.25 * (x / width) - 0.12 * (y / height)
      const from = look.mirrored ? y * width + (width - 1 - x) : y * width + x
      const value = (25 + 195 * (soft[from] as number)) * light + look.noise * normal(random)
      grey[y * width + x] = Math.max(0, Math.min(255, Math.round(value)))
    }
  }
  return { width, height, grey }
}
