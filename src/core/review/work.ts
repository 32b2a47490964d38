import type { LoadTexts } from '#core/decide/drive/read-load'
import type { Detection, Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'

/** A pen stroke as two ends, px of the upright photo; inner end first on a dial. */
export interface Stroke {
  readonly p0: Point
  readonly p1: Point
}

/** One thing a person changed. `at`: when, ISO 8601, as the page's clock said; it decides nothing. */
export type Edit = { readonly at: string } & (
  | ({ readonly kind: 'move'; readonly mark: string } & Stroke)
  | ({ readonly kind: 'add'; readonly mark: string } & Stroke)
  | { readonly kind: 'delete'; readonly mark: string }
  | { readonly kind: 'split'; readonly mark: string; readonly into: readonly [Stroke, Stroke]; readonly named: readonly [string, string] }
  | { readonly kind: 'label'; readonly mark: string; readonly command: number | null; readonly tally: number | null }
  | { readonly kind: 'accept'; readonly mark: string }
  | { readonly kind: 'centre'; readonly to: Point }
  | { readonly kind: 'corners'; readonly to: readonly [Point, Point, Point, Point] }
)

export interface PhotoOfTest {
  readonly name: string
  readonly sha256: string
}

/** Where a paced run stands; the time of the next prompt is worked out from these, never stored. */
export interface PaceState {
  readonly commands: number
  readonly dwellS: number
  readonly command: number
  readonly bothWays: boolean
}

/** Drive trains tried and what the machine must do, as typed. */
export interface MachineState {
  readonly trains: readonly string[]
  readonly resolution: string
  /** Load and torque data of the machine. */
  readonly load?: LoadTexts
}

/** One motor test as the page keeps it: what was set, typed, found and changed. Everything else follows from it. */
export interface Work {
  readonly schema: 'stepwitness/work@1'
  readonly name: string
  /** Values of the set-up keys as typed, by the names they have in the head of a trace file. */
  readonly setUp: Readonly<Record<string, string>>
  readonly source: 'typed' | 'photo'
  /** Rows of the typing grid, in the order of `gridColumns`. */
  readonly rows: readonly (readonly string[])[]
  readonly photo: PhotoOfTest | null
  readonly found: Detection | null
  /** What was told about the photo when its marks were looked for; null or left out where that is not known. */
  readonly hints?: Hints | null
  /** Every edit since the photo was read, of which the first `applied` hold; the rest can be redone. */
  readonly edits: readonly Edit[]
  readonly applied: number
  readonly pace: PaceState | null
  readonly machine: MachineState
}

export const gridColumns = ['position', 'command', 'tally', 'pass', 'direction', 'note'] as const

export const emptyWork = (name: string): Work => ({
  schema: 'stepwitness/work@1',
  name,
  setUp: {},
  source: 'typed',
  rows: [],
  photo: null,
  found: null,
  edits: [],
  applied: 0,
  pace: null,
  machine: { trains: [], resolution: '' },
})
