import type { Raster } from '#core/detect/raster'
import { type Kernels, kernels } from './kernels.ts'

/** The program's memory as numbers of each kind, each counted in its own size from the start. */
interface Views {
  readonly u8: Uint8Array
  readonly i32: Int32Array
  readonly u32: Uint32Array
  readonly f32: Float32Array
  readonly f64: Float64Array
}

/** Regions for one piece of work. */
interface Workspace<Sizes extends readonly number[]> extends Views {
  readonly program: Kernels
  /** Where each region starts, bytes: a multiple of 16. */
  readonly at: { readonly [K in keyof Sizes]: number }
}

const PAGE = 65_536
/** Bytes kept free behind each region: a loop that takes several numbers at a time reads and writes a few beyond the last. */
const SPARE = 64

let seen: Views | null = null

const viewsOf = ({ memory: { buffer } }: Kernels): Views => {
  if (seen?.u8.buffer !== buffer) seen = { u8: new Uint8Array(buffer), i32: new Int32Array(buffer), u32: new Uint32Array(buffer), f32: new Float32Array(buffer), f64: new Float64Array(buffer) }
  return seen
}

/** Where a region that starts there is over. */
const endOf = (start: number, bytes: number): number => start + Math.ceil((bytes + SPARE) / 16) * 16

const growTo = ({ memory }: Kernels, end: number): void => {
  const lacking = Math.ceil((end - memory.buffer.byteLength) / PAGE)
  if (lacking > 0) memory.grow(lacking)
}

const startOf = ({ free }: Kernels): number => Math.ceil(free.value / 16) * 16

/** The photo that stands at the start of the memory, since many pieces of work look at the same one. */
let held: Raster['grey'] = new Uint8Array(0)

/** Where a photo stands in the memory; to be called before the workspace is laid out, which then lies behind it. */
export const photoPlace = ({ grey }: Raster): number => {
  const program = kernels()
  const start = startOf(program)
  if (held !== grey) {
    growTo(program, endOf(start, grey.length))
    viewsOf(program).u8.set(grey, start)
    held = grey
  }
  return start
}

/** Whoever brings a photo may have filled the array of the last one anew: it is copied in again. */
export const forgetPhoto = (): void => {
  held = new Uint8Array(0)
}

/**
 * Lays out the program's memory anew, in regions of so many bytes each. It grows to what the largest photo needs and is used
 * again for every piece of work: what stood in it is lost, and so are arrays over it, so whatever is to be kept is copied out.
 */
export const workspace = <const Sizes extends readonly number[]>(...sizes: Sizes): Workspace<Sizes> => {
  const program = kernels()
  let end = endOf(startOf(program), held.length)
  const at = sizes.map((size) => {
    const start = end
    end = endOf(start, size)
    return start
  })
  growTo(program, end)
  return { program, at: at as unknown as Workspace<Sizes>['at'], ...viewsOf(program) }
}
