import { createPainter } from './paint.ts'
import type { Scene } from './scene.ts'
import { develop, reachOf, type Sensor } from './sensor.ts'

export interface Picture {
  readonly width: number
  readonly height: number
  /** 8-bit RGB, row after row, upright. */
  readonly rgb: Uint8Array
}

/** Takes the photo, band after band so that memory stays small whatever the size. */
export const photograph = (scene: Scene, sensor: Sensor): Picture => {
  const { width, height } = scene.camera
  const paint = createPainter(scene)
  const reach = reachOf(sensor)
  const rgb = new Uint8Array(width * height * 3)
  const step = Math.max(64, Math.min(height, Math.floor(2_000_000 / width)))
  for (let from = 0; from < height; from += step) {
    const rows = Math.min(step, height - from)
    const first = Math.max(0, from - reach)
    const last = Math.min(height, from + rows + reach)
    develop(paint(first, last - first), sensor, { from, rows }, rgb)
  }
  return { width, height, rgb }
}
