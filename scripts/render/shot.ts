import type { Encoding } from './encode.ts'
import type { Scene } from './scene.ts'
import type { Sensor } from './sensor.ts'
import type { Truth } from './truth.ts'

/** A photo ready to be taken, with what is true about it. */
export interface Shot {
  readonly scene: Scene
  readonly sensor: Sensor
  readonly encoding: Encoding
  readonly truth: Truth
}
