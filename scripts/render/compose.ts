import { composePointer } from './compose-pointer.ts'
import { composeStrip } from './compose-strip.ts'
import type { Shot } from './shot.ts'
import type { Difficulty } from './truth.ts'

/** The photo that a seed stands for in a class. */
export const compose = (seed: number, difficulty: Difficulty): Shot =>
  difficulty === 'strip' ? composeStrip(seed) : composePointer(seed, difficulty)
