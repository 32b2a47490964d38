import type { Band } from './paint.ts'
import { createRandom, mix32 } from './random.ts'

/** Lens and sensor after the scene: blur, noise, sharpening, tone curve. */
export interface Sensor {
  /** Focus blur, standard deviation in px. */
  readonly blurPx: number
  /** Motion during exposure, px along x and y. */
  readonly motionPx: readonly [number, number]
  /** Noise variance = shot·level + read² in linear light (1 = white). */
  readonly shot: number
  readonly read: number
  /** White noise after the tone curve, grey levels (for lossless test pictures). */
  readonly flatNoise: number
  /** Unsharp mask: amount and radius, px. */
  readonly sharpen: { readonly amount: number; readonly radiusPx: number }
  readonly exposure: number
  readonly tone: 'srgb' | 'linear'
  readonly seed: number
}

/** Rows beyond a band that its blurs can reach. */
export const reachOf = (sensor: Sensor): number =>
  Math.ceil(3.5 * sensor.blurPx + Math.abs(sensor.motionPx[1]) + 3.5 * sensor.sharpen.radiusPx) + 3

const bell = (sigma: number): Float32Array => {
  const half = Math.max(1, Math.ceil(3.2 * sigma))
  const k = Float32Array.from({ length: 2 * half + 1 }, (_, i) => Math.exp(-((i - half) ** 2) / (2 * sigma * sigma)))
  const total = k.reduce((a, b) => a + b, 0)
  return k.map((v) => v / total)
}

/** Separable blur; rows and columns beyond the edge repeat the last one. */
export const blur = (plane: Float32Array, width: number, sigma: number): Float32Array => {
  if (sigma < 0.15) return plane
  const kernel = bell(sigma)
  return blurDown(blurAcross(plane, width, kernel), width, kernel)
}

const blurAcross = (plane: Float32Array, width: number, kernel: Float32Array): Float32Array => {
  const half = (kernel.length - 1) / 2
  const out = new Float32Array(plane.length)
  for (let row = 0; row < plane.length; row += width)
    for (let x = 0; x < width; x++) {
      let sum = 0
      if (x >= half && x < width - half) {
        const o = row + x - half
        for (let k = 0; k < kernel.length; k++) sum += (kernel[k] as number) * (plane[o + k] as number)
      } else for (let k = 0; k < kernel.length; k++) sum += (kernel[k] as number) * (plane[row + Math.max(0, Math.min(width - 1, x + k - half))] as number)
      out[row + x] = sum
    }
  return out
}

const blurDown = (plane: Float32Array, width: number, kernel: Float32Array): Float32Array => {
  const half = (kernel.length - 1) / 2
  const rows = plane.length / width
  const out = new Float32Array(plane.length)
  for (let y = 0; y < rows; y++)
    for (let k = 0; k < kernel.length; k++) {
      const from = Math.max(0, Math.min(rows - 1, y + k - half)) * width
      const weight = kernel[k] as number
      for (let x = 0, o = y * width; x < width; x++) out[o + x] = (out[o + x] as number) + weight * (plane[from + x] as number)
    }
  return out
}

const smear = (plane: Float32Array, width: number, [mx, my]: readonly [number, number]): Float32Array => {
  const length = Math.hypot(mx, my)
  if (length < 0.3) return plane
  const taps = Math.max(3, 2 * Math.ceil(length) + 1)
  const rows = plane.length / width
  const out = new Float32Array(plane.length)
  for (let t = 0; t < taps; t++) {
    const part = t / (taps - 1) - 0.5
    const [dx, dy] = [part * mx, part * my]
    const [ix, iy] = [Math.floor(dx), Math.floor(dy)]
    const [fx, fy] = [dx - ix, dy - iy]
    for (let y = 0; y < rows; y++) {
      const r0 = Math.max(0, Math.min(rows - 1, y + iy)) * width
      const r1 = Math.max(0, Math.min(rows - 1, y + iy + 1)) * width
      for (let x = 0; x < width; x++) {
        const x0 = Math.max(0, Math.min(width - 1, x + ix))
        const x1 = Math.max(0, Math.min(width - 1, x + ix + 1))
        const top = (plane[r0 + x0] as number) * (1 - fx) + (plane[r0 + x1] as number) * fx
        const bottom = (plane[r1 + x0] as number) * (1 - fx) + (plane[r1 + x1] as number) * fx
        out[y * width + x] = (out[y * width + x] as number) + (top * (1 - fy) + bottom * fy) / taps
      }
    }
  }
  return out
}

const createNormals = (): Float32Array => {
  const random = createRandom(20_011, 'normals')
  return Float32Array.from({ length: 1 << 17 }, () => random.normal())
}
const normals = createNormals()

/** The same pixel gets the same noise whichever band it is drawn in. */
const noiseAt = (index: number, seed: number): number => normals[mix32(index ^ seed) & 0x1ffff] as number

const addNoise = (plane: Float32Array, first: number, sensor: Sensor, seed: number): void => {
  if (sensor.shot === 0 && sensor.read === 0) return
  const read2 = sensor.read ** 2
  for (let i = 0; i < plane.length; i++) {
    const level = plane[i] as number
    plane[i] = level + Math.sqrt(sensor.shot * Math.max(0, level) + read2) * noiseAt(first + i, seed)
  }
}

const sharpened = (plane: Float32Array, width: number, { amount, radiusPx }: Sensor['sharpen']): Float32Array => {
  if (amount === 0) return plane
  const soft = blur(plane, width, radiusPx)
  return plane.map((v, i) => v + amount * (v - (soft[i] as number)))
}

/** Lights roll off instead of clipping above this level, as in a phone's own picture. */
const SHOULDER = 0.8

/** sRGB curve (IEC 61966-2-1) with a soft shoulder, from linear 0 … to 0 … 255. */
export const toneOf = (level: number, tone: Sensor['tone']): number => {
  const above = Math.max(0, level - SHOULDER) / (1 - SHOULDER)
  const v = Math.max(0, Math.min(1, level > SHOULDER ? SHOULDER + (1 - SHOULDER) * (1 - Math.exp(-above)) : level))
  if (tone === 'linear') return 255 * v
  return 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055)
}

const toneTable = (sensor: Sensor): Float32Array => Float32Array.from({ length: 16385 }, (_, i) => toneOf(i / 8192, sensor.tone))

/** Develops a band into 8-bit RGB for rows `keepFrom` … `keepFrom + keepRows - 1` of the picture, written at their place in `out`. */
export const develop = (band: Band, sensor: Sensor, keep: { readonly from: number; readonly rows: number }, out: Uint8Array): void => {
  const table = toneTable(sensor)
  band.planes.forEach((raw, c) => {
    const seed = mix32(sensor.seed * 3 + c)
    const exposed = raw.map((v) => v * sensor.exposure)
    const soft = smear(blur(exposed, band.width, sensor.blurPx), band.width, sensor.motionPx)
    addNoise(soft, band.from * band.width, sensor, seed)
    const crisp = sharpened(soft, band.width, sensor.sharpen)
    for (let row = 0; row < keep.rows; row++)
      for (let x = 0; x < band.width; x++) {
        const level = crisp[(keep.from - band.from + row) * band.width + x] as number
        const grey = table[Math.max(0, Math.min(16384, Math.round(level * 8192)))] as number
        const pixel = (keep.from + row) * band.width + x
        out[pixel * 3 + c] = Math.max(0, Math.min(255, Math.round(grey + (sensor.flatNoise > 0 ? sensor.flatNoise * noiseAt(pixel, mix32(sensor.seed)) : 0))))
      }
  })
}
