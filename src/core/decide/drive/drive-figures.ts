/** What one mode of a measured trace says to a machine; angles deg at the motor's shaft. */
export interface ModeFigures {
  readonly microsteps: number
  /** null when the mode was not judged. */
  readonly verdict: 'holds' | 'fails' | 'not proven' | null
  /** Effective microsteps per full step of this mode, with its interval; null when not known. */
  readonly effective: { readonly value: number; readonly low: number; readonly high: number } | null
  /** Largest increment between successive rests, in microsteps of this mode; null when not known. */
  readonly largestIncrement: number | null
}

/** The figures of a measured motor that a drive train turns into millimetres. */
export interface DriveFigures {
  readonly modes: readonly ModeFigures[]
  /** Mean forward minus mean backward at the same command, deg; null with one direction. */
  readonly reversalDeg: number | null
  /** Standard uncertainty of one mark, deg; null when not known. */
  readonly markUDeg: number | null
}

/** An effective count typed by hand for mode N alone. */
export const figuresFromCount = (microsteps: number, effective: number): DriveFigures => ({
  modes: [
    {
      microsteps,
      verdict: null,
      effective: { value: effective, low: effective, high: effective },
      largestIncrement: null,
    },
  ],
  reversalDeg: null,
  markUDeg: null,
})
