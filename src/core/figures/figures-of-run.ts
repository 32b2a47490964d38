import { type Figures, figuresOf, type RoughFigures, roughFigures } from './figures.ts'
import type { Straight } from './straighten.ts'

/** Every figure of the mean run. */
export interface RunFigures {
  /** Jumps read first, and last; the same object where every jump is known. */
  readonly early: Figures
  readonly late: Figures
  /** Before the rig's own errors were taken off. */
  readonly before: RoughFigures
}

/** Every figure of a straightened run, by each way its jumps can be read. */
export const figuresOfRun = ({ anglesDeg, lateDeg, asMarkedDeg, faults, lengths, known }: Straight): RunFigures => {
  const early = figuresOf({ anglesDeg, ...known })
  return {
    early,
    late: lateDeg === anglesDeg ? early : figuresOf({ anglesDeg: lateDeg, ...known }),
    before: faults.removed.length > 0 || lengths.length > 0 ? roughFigures({ anglesDeg: asMarkedDeg, ...known }) : early,
  }
}
