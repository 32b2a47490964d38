import { GAMMA } from '#core/detect/light'
import { inkProfile } from '#core/detect/stroke/stroke-model'
import type { Pen } from './stroke-group.ts'

/** Ink that takes more of the light than this goes on darkening evenly, so that a fit finds its way back. */
const MOST = 0.97
const LEAST_LEFT = (1 - MOST) ** (1 / GAMMA)
const STEEPEST = LEAST_LEFT / (GAMMA * (1 - MOST))

/** (1 − ink)^(1/gamma) at every 1024th of ink, a power for every pixel being slow; drawn straight in between it is off by less than 1e-5. */
const STEPS = 1024
const powers = Float64Array.from({ length: STEPS + 1 }, (_, i) => (1 - i / STEPS) ** (1 / GAMMA))

/**
 * Share of the paper's grey level that is left where ink takes a share of its light. Ink takes a share of the light that falls on it,
 * and blur mixes light: so shares of light add up where strokes run into each other, not grey levels.
 */
export const greyLeft = (ink: number): number => {
  if (ink >= MOST) return LEAST_LEFT - (ink - MOST) * STEEPEST
  const place = ink * STEPS
  const i = Math.floor(place)
  const before = powers[i] as number
  return before + (place - i) * ((powers[i + 1] as number) - before)
}

/**
 * How fast greyLeft falls with the ink.
 * @param left greyLeft of that ink
 */
export const steepness = (ink: number, left: number): number => (ink < MOST ? left / (GAMMA * (1 - ink)) : STEEPEST)

/** A stroke's amplitude in grey levels as the share of light that its ink takes, of the same darkness in the middle of the stroke; paper in grey levels. */
export const shareOf = (amplitude: number, { halfWidth, sigma }: Pen, paper: number): number => {
  const peak = inkProfile(0, halfWidth, sigma)
  return Math.min(MOST, 1 - Math.max(0, 1 - (amplitude * peak) / paper) ** GAMMA) / peak
}

/** The inverse of shareOf. */
export const amplitudeOf = (share: number, { halfWidth, sigma }: Pen, paper: number): number => {
  const peak = inkProfile(0, halfWidth, sigma)
  return (paper * (1 - greyLeft(share * peak))) / peak
}
