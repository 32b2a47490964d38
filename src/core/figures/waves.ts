/** A sine wave to look for in the position errors. */
export interface Wave {
  readonly order: number
  readonly about: 'electrical cycle' | 'turn'
  /** Radians per command. */
  readonly rate: number
  /** Its sine is zero at every command: only the cosine shows. */
  readonly halfSeen: boolean
}

/** Orders below the fold of 2N samples are seen whole; the one at the fold by one component; those above not at all. */
export const electricalWaves = (orders: readonly number[], microsteps: number): Wave[] =>
  orders
    .filter((order) => order <= 2 * microsteps)
    .map((order) => ({ order, about: 'electrical cycle', rate: (order * Math.PI) / 2 / microsteps, halfSeen: order === 2 * microsteps }))

/** Once and twice per turn of so many commands. */
export const turnWaves = (commandsPerTurn: number): Wave[] => [1, 2].map((order) => ({ order, about: 'turn', rate: (2 * Math.PI * order) / commandsPerTurn, halfSeen: false }))

/** Sine and cosine of a wave at commands 1 … K; the cosine alone where it is half seen. */
export const columnsOf = (wave: Wave, commands: number): number[][] => {
  const angles = Array.from({ length: commands }, (_, i) => wave.rate * (i + 1))
  const cosines = angles.map(Math.cos)
  return wave.halfSeen ? [cosines] : [angles.map(Math.sin), cosines]
}
