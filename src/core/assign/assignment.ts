/** How commands came to their marks. */
export type DecidedBy = 'command' | 'tally' | 'order' | 'fit'

/** A mark whose number of commands could as well be another. */
export interface Doubt {
  readonly line: number
  readonly command: number
  readonly couldBe: number
  /** Log of how much likelier the chosen number is (natural log of the likelihood ratio). */
  readonly logOdds: number
}

/** Which commands belong to which mark of one run. */
export interface Assignment {
  readonly decidedBy: DecidedBy
  /** K. */
  readonly commands: number
  /** Number of the last command that ended at each mark, in travel order; the first is 0. */
  readonly lastCommand: readonly number[]
  /** The run goes round exactly: the last command ends on the start mark again. */
  readonly closed: boolean
  readonly ambiguous: boolean
  /** Smallest log odds over all marks; null where nothing was fitted. */
  readonly margin: number | null
  /** For each mark the log odds of its number against the next-best; null where nothing else fits; empty where nothing was fitted. */
  readonly logOdds: readonly (number | null)[]
  readonly doubts: readonly Doubt[]
  /** Lines of the marks that, numbered by hand, would settle all of them. */
  readonly labelsToSettle: readonly number[]
  /** Other countings nearly as likely, each like `lastCommand`: no verdict may hang on which of them is right. */
  readonly others: readonly (readonly number[])[]
  /** Commands without a mark where nearly every other has one: merged, or their mark was left out. */
  readonly perhapsLeftOut: readonly number[]
  readonly warnings: readonly string[]
}

/** What a run is assigned with. */
export interface AssignOptions {
  /** δ, deg at the shaft. */
  readonly microstepDeg: number
  /** N. */
  readonly microsteps: number
  /** One turn at the shaft when the rig goes round, deg; null otherwise. */
  readonly turnDeg: number | null
  /** K when stated. */
  readonly commands: number | null
  /** Standard uncertainty of a mark, deg; 0 when unknown. */
  readonly uDeg: number
  /** Highest power of the command that an error of the rig may take up: 0 pointer, 1 a radius, 2 a wall. */
  readonly bend: 0 | 1 | 2
  /** The marks come in the order in which they were made; those off a photo have none. */
  readonly ordered: boolean
}
