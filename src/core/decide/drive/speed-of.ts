import type { Travel } from './travel-of.ts'

/** Carriage speed in travel units per second at a rate of commands (1/N steps) per second. */
export const speedAt = (travel: Pick<Travel, 'perFullStep'>, commandsPerSecond: number, microsteps: number): number =>
  (commandsPerSecond * travel.perFullStep) / microsteps

/** Commands (1/N steps) per second for a carriage speed in travel units per second; the inverse of speedAt. */
export const rateFor = (travel: Pick<Travel, 'perFullStep'>, speed: number, microsteps: number): number =>
  (speed * microsteps) / travel.perFullStep
