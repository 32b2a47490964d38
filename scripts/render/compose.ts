import { composePointer } from './compose-pointer.ts'
import { composeStrip } from './compose-strip.ts'
import type { Shot } from './shot.ts'
import type { Difficulty } from './truth.ts'

/** Width and height of the picture before any turning, px. */
export type PictureSize = readonly [width: number, height: number]

/** The photo that a seed stands for in a class; `size` instead of the size that the seed would choose. */
export const compose = (seed: number, difficulty: Difficulty, size: PictureSize | null = null): Shot =>
  difficulty === 'strip' ? composeStrip(seed, size) : composePointer(seed, difficulty, size)
