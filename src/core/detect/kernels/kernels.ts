import { bellTable, erfTable } from '#core/numeric/error-function'
import { PROGRAM } from './program.ts'

/** The program's functions, described in `assembly/`; a place is a byte of its memory. */
export interface Kernels {
  readonly memory: { readonly buffer: ArrayBuffer; readonly grow: (pages: number) => number }
  readonly luma: (samples: number, channels: number, count: number, into: number) => void
  readonly overWhite: (samples: number, channels: number, count: number, grey: number) => void
  readonly turn: (block: number, width: number, rows: number, to: number, right: number, below: number) => void
  readonly boxSums: (grey: number, across: number, factor: number, width: number, height: number, column: number, into: number) => void
  readonly look: (numbers: number, count: number, table: number, into: number) => void
  readonly smooth: (plane: number, width: number, height: number, taps: number, radius: number, spans: number, line: number, into: number) => void
  readonly scan: (plane: number, width: number, row: number, from: number, to: number, least: number, at: number, points: number, room: number, count: number) => number
  readonly link: (order: number, starts: number, points: number, room: number, at: number, width: number, used: number, least: number, chains: number, ends: number) => number
  readonly strokeSystem: (pixels: number, room: number, starts: number, intervals: number, state: number, columns: number, lower: number, right: number, erfs: number, bells: number) => void
}

// The little of it that is used, since the types of the language alone do not have it; browsers and Node do.
declare const WebAssembly: { readonly Module: new (bytes: Uint8Array) => object; readonly Instance: new (module: object) => { readonly exports: unknown } }
declare const atob: (text: string) => string

/** Where the tables stand that loops look up: f64 numbers at the start of the memory. */
export const tables = { erf: 0, bell: erfTable.byteLength, end: erfTable.byteLength + bellTable.byteLength } as const

const load = (): Kernels => {
  const program = new WebAssembly.Instance(new WebAssembly.Module(Uint8Array.from(atob(PROGRAM), (c) => c.charCodeAt(0)))).exports as Kernels
  program.memory.grow(1)
  const numbers = new Float64Array(program.memory.buffer)
  numbers.set(erfTable, tables.erf / 8)
  numbers.set(bellTable, tables.bell / 8)
  return program
}

let loaded: Kernels | null = null

/** The loops over every pixel, compiled ahead: loaded when first called for, once in every thread. */
export const kernels = (): Kernels => {
  loaded ??= load()
  return loaded
}
