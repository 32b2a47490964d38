import type { Camera } from './camera.ts'
import type { InkSheet } from './ink-sheet.ts'
import type { Layer } from './layer.ts'
import type { Light } from './light.ts'
import type { NoiseTile } from './noise-tile.ts'
import type { Print } from './print.ts'
import type { Paper } from './paper.ts'
import type { Table } from './table.ts'

/** Everything in front of the lens. */
export interface Scene {
  readonly paper: Paper
  readonly print: Print | null
  readonly ink: InkSheet
  readonly layers: readonly Layer[]
  readonly table: Table
  readonly light: Light
  readonly camera: Camera
  readonly tile: NoiseTile
  /** Samples per pixel side where an edge passes. */
  readonly samples: number
}
