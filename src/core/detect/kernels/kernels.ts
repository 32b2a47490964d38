import { bellTable, erfTable } from '#core/numeric/error-function'
import { PROGRAM } from './program.ts'

/** The program's functions, described in `assembly/`; a place is a byte of its memory. */
export interface Kernels {
  readonly memory: { readonly buffer: ArrayBuffer; readonly grow: (pages: number) => number }
  readonly luma: (samples: number, channels: number, count: number, into: number) => void
  readonly overWhite: (samples: number, channels: number, count: number, grey: number) => void
  readonly turn: (block: number, width: number, rows: number, to: number, right: number, below: number) => void
  readonly boxSums: (grey: number, across: number, factor: number, width: number, height: number, column: number, into: number) => void
  readonly means: (sums: number, count: number, area: number, into: number) => void
  readonly look: (numbers: number, count: number, table: number, into: number) => void
  readonly smooth: (plane: number, width: number, height: number, taps: number, radius: number, spans: number, line: number, into: number) => void
  readonly laplacians: (plane: number, width: number, row: number, from: number, to: number, step: number, into: number) => number
  readonly scan: (plane: number, width: number, row: number, from: number, to: number, least: number, at: number, points: number, room: number, count: number) => number
  readonly link: (order: number, starts: number, points: number, room: number, at: number, width: number, used: number, least: number, chains: number, ends: number) => number
  readonly profiles: (plane: number, width: number, height: number, segments: number, count: number, reach: number, perPx: number, into: number) => void
  readonly darkRuns: (grey: number, width: number, height: number, half: number, ratio: number, sums: number, runs: number, room: number) => number
  readonly joinRuns: (runs: number, room: number, count: number, reach: number, roots: number) => void
  readonly sumAreas: (runs: number, room: number, count: number, roots: number, slots: number, areas: number) => number
  readonly nthSmallest: (values: number, count: number, rank: number) => number
  readonly gather: (photo: number, width: number, height: number, strip: number, rowStep: number, columnStep: number, inks: number, count: number, into: number, room: number) => number
  readonly fitStroke: (own: number, pixels: number, room: number, count: number, reachS: number, sorted: number, columns: number, settled: boolean, within: number, found: number) => number
  readonly darkness: (ink: number, pixels: number, room: number, count: number, reachT: number, slice: number, slices: number, into: number) => void
  readonly pulls: (ink: number, pixels: number, room: number, count: number, cut: number, slices: number, into: number) => void
  readonly leftAlong: (photo: number, width: number, height: number, ray: number, inks: number, count: number, places: number, pieces: number, into: number) => void
  readonly runningLevels: (values: number, count: number, half: number, every: number, window: number, into: number) => void
  readonly castVotes: (lines: number, count: number, long: number, cell: number, left: number, top: number, columns: number, rows: number, votes: number) => void
  readonly findPeaks: (votes: number, columns: number, rows: number, sums: number, peaks: number) => number
  readonly pullCentre: (lines: number, count: number, centre: number) => void
  readonly scoreCentre: (lines: number, count: number, x: number, y: number, bearings: number, bins: number) => number
  /** Where the tables stand, and where the memory is free. */
  readonly erfs: { readonly value: number }
  readonly bells: { readonly value: number }
  readonly free: { readonly value: number }
}

// The little of it that is used, since the types of the language alone do not have it; browsers and Node do.
declare const WebAssembly: { readonly Module: new (bytes: Uint8Array) => object; readonly Instance: new (module: object) => { readonly exports: unknown } }
declare const atob: (text: string) => string

const programBytes = (): Uint8Array => {
  const text = atob(PROGRAM)
  const bytes = new Uint8Array(text.length)
  // Not by Uint8Array.from, which makes a string of each letter: 5 ms.
  for (let i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i)
  return bytes
}

const load = (): Kernels => {
  const program = new WebAssembly.Instance(new WebAssembly.Module(programBytes())).exports as Kernels
  const numbers = new Float64Array(program.memory.buffer)
  numbers.set(erfTable, program.erfs.value / 8)
  numbers.set(bellTable, program.bells.value / 8)
  return program
}

let loaded: Kernels | null = null

/** The loops over every pixel, compiled ahead: loaded when first called for, once in every thread. */
export const kernels = (): Kernels => {
  loaded ??= load()
  return loaded
}
