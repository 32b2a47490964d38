import { type Kernels, kernels, tables } from './kernels.ts'

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

/**
 * Lays out the program's memory anew, in regions of so many bytes each. It grows to what the largest photo needs and is used
 * again for every piece of work: what stood in it is lost, and so are arrays over it, so whatever is to be kept is copied out.
 */
export const workspace = <const Sizes extends readonly number[]>(...sizes: Sizes): Workspace<Sizes> => {
  const program = kernels()
  let end = Math.ceil((tables.end + SPARE) / 16) * 16
  const at = sizes.map((size) => {
    const start = end
    end += Math.ceil((size + SPARE) / 16) * 16
    return start
  })
  const lacking = Math.ceil((end - program.memory.buffer.byteLength) / PAGE)
  if (lacking > 0) program.memory.grow(lacking)
  return { program, at: at as unknown as Workspace<Sizes>['at'], ...viewsOf(program) }
}
