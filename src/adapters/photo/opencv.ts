import { createRequire } from 'node:module'

/** A matrix of the library; it lives outside the garbage collector and must be deleted. */
export interface Mat {
  readonly data: Uint8Array
  readonly data64F: Float64Array
  readonly delete: () => void
}

/** The few functions of the library that are used, typed by hand: its own typings say `any` throughout. */
export interface OpenCv {
  readonly CV_8UC3: number
  readonly CV_64F: number
  readonly CV_64FC2: number
  readonly INTER_AREA: number
  readonly INTER_LINEAR: number
  readonly BORDER_CONSTANT: number
  readonly Mat: new () => Mat
  readonly Size: new (width: number, height: number) => object
  readonly Scalar: new (...channels: number[]) => object
  readonly matFromArray: (rows: number, columns: number, type: number, values: ArrayLike<number>) => Mat
  readonly findHomography: (from: Mat, to: Mat, method: number) => Mat
  readonly warpPerspective: (from: Mat, to: Mat, map: Mat, size: object, flags: number, border: number, fill: object) => void
}

/** Loads the library (about 0.3 s), once per process. */
export const openCv = (): OpenCv => (createRequire(import.meta.url)('opencv-wasm') as { readonly cv: OpenCv }).cv
