import type { Difficulty } from './truth.ts'

/** How hard each class of photo is. */
export interface Hardness {
  /** 0 none … 1 a mess. */
  readonly clutter: number
  /** 0 good light and a steady hand … 1 poor. */
  readonly rough: number
  readonly maxTiltDeg: number
  readonly maxRollDeg: number
  readonly maxK1: number
  readonly shadow: number
  readonly pointer: number
  readonly paleTable: boolean
  readonly sizes: readonly (readonly [width: number, height: number])[]
}

const USUAL = [[1600, 1200], [1600, 1200], [2016, 1512], [2048, 1536], [1920, 1440], [1280, 960], [2592, 1944], [2592, 1944], [3264, 2448], [4032, 3024]] as const

export const HARDNESS: Readonly<Record<Difficulty, Hardness>> = {
  clean: { clutter: 0, rough: 0, maxTiltDeg: 0, maxRollDeg: 3, maxK1: 0, shadow: 0, pointer: 0, paleTable: false, sizes: [[1600, 1200], [2016, 1512]] },
  textured: { clutter: 0, rough: 0, maxTiltDeg: 0, maxRollDeg: 3, maxK1: 0, shadow: 0, pointer: 0, paleTable: false, sizes: [[1600, 1200], [2016, 1512]] },
  plain: { clutter: 0.25, rough: 0.15, maxTiltDeg: 26, maxRollDeg: 12, maxK1: 0.012, shadow: 0.1, pointer: 0, paleTable: true, sizes: USUAL },
  cropped: { clutter: 0.25, rough: 0.15, maxTiltDeg: 18, maxRollDeg: 25, maxK1: 0.012, shadow: 0.1, pointer: 0, paleTable: true, sizes: USUAL },
  hard: { clutter: 1, rough: 1, maxTiltDeg: 28, maxRollDeg: 20, maxK1: 0.025, shadow: 0.6, pointer: 0.5, paleTable: true, sizes: [[640, 480], [640, 480], [1024, 768], [1280, 960], [1600, 1200]] },
  sheet: { clutter: 0.25, rough: 0.3, maxTiltDeg: 30, maxRollDeg: 20, maxK1: 0.025, shadow: 0.3, pointer: 0.15, paleTable: true, sizes: USUAL },
  circle: { clutter: 0.25, rough: 0.15, maxTiltDeg: 26, maxRollDeg: 25, maxK1: 0.012, shadow: 0.1, pointer: 0, paleTable: true, sizes: USUAL },
  strip: { clutter: 0.2, rough: 0.3, maxTiltDeg: 20, maxRollDeg: 6, maxK1: 0.012, shadow: 0.15, pointer: 0, paleTable: true, sizes: USUAL },
}
