/** Rest positions of one motor as the fit takes them; the arrays run in the order the commands were given. */
export interface MotorTrace {
  readonly stepsPerRev: number
  readonly microsteps: number
  /** Command index of each rest; on a return pass the same number means the same commanded angle. */
  readonly commands: readonly number[]
  /** Shaft angle, degrees, unwrapped, rising with the command index. */
  readonly anglesDeg: readonly number[]
  /** +1 where the command was reached counting up, −1 counting down. */
  readonly directions: readonly (1 | -1)[]
  readonly passes: readonly number[]
  /** Standard uncertainty of one mark, degrees at the shaft. */
  readonly uDeg: number
}

/** Rests of one direction folded at the electrical cycle, by phase index. */
export interface FoldedLeg {
  readonly direction: 1 | -1
  /** Mean of rest angle less commanded angle, electrical rad, the trace's mean taken out; 0 where count is 0. */
  readonly mean: Float64Array
  readonly count: Float64Array
}

export interface FoldedPattern {
  /** P = 4N. */
  readonly phases: number
  readonly legs: readonly FoldedLeg[]
  /** Rests used, and their mean error that was taken out, electrical rad. */
  readonly rests: number
  readonly meanError: number
  /** Squares about the cells' means, electrical rad², and their degrees of freedom: what does not repeat from cycle to cycle. */
  readonly scatterSquares: number
  readonly scatterFreedom: number
  /** The part of those squares that whole full steps share (tooth-to-tooth scatter, a slow wander), and how many full steps there are. */
  readonly sharedSquares: number
  readonly sharedGroups: number
  /** u of one mark, electrical rad. */
  readonly u: number
}

/**
 * Which rests have settled: the first full step of every leg (one pass, one direction) is left out, at most a tenth of the
 * leg and at least its first mark, because the shaft may still be coming out of the dead band it was found in.
 */
const settled = (trace: MotorTrace): readonly boolean[] => {
  const legOf = trace.commands.map((_, i) => `${trace.passes[i]} ${trace.directions[i]}`)
  const length = new Map<string, number>()
  for (const leg of legOf) length.set(leg, (length.get(leg) ?? 0) + 1)
  const seen = new Map<string, number>()
  return legOf.map((leg) => {
    const place = seen.get(leg) ?? 0
    seen.set(leg, place + 1)
    return place >= Math.max(1, Math.min(trace.microsteps, Math.floor((length.get(leg) ?? 0) / 10)))
  })
}

interface Rest {
  readonly phase: number
  readonly error: number
  readonly direction: 1 | -1
  /** Which full step of which leg. */
  readonly group: string
}

const foldLeg = (direction: 1 | -1, rests: readonly Rest[], phases: number): FoldedLeg => {
  const mean = new Float64Array(phases)
  const count = new Float64Array(phases)
  for (const { phase, error } of rests) {
    count[phase] = (count[phase] as number) + 1
    mean[phase] = (mean[phase] as number) + (error - (mean[phase] as number)) / (count[phase] as number)
  }
  return { direction, mean, count }
}

/** Squares of the rests about their cells' means, and how much of them full steps have in common. */
const scatterOf = (rests: readonly Rest[], legs: readonly FoldedLeg[]): Pick<FoldedPattern, 'scatterSquares' | 'sharedSquares' | 'sharedGroups'> => {
  const meanOf = new Map(legs.map((leg) => [leg.direction, leg.mean]))
  const groups = new Map<string, { sum: number; count: number }>()
  let scatterSquares = 0
  for (const rest of rests) {
    const miss = rest.error - (meanOf.get(rest.direction)?.[rest.phase] ?? 0)
    scatterSquares += miss * miss
    const group = groups.get(rest.group) ?? { sum: 0, count: 0 }
    groups.set(rest.group, { sum: group.sum + miss, count: group.count + 1 })
  }
  const sharedSquares = [...groups.values()].reduce((total, { sum, count }) => total + (sum * sum) / count, 0)
  return { scatterSquares, sharedSquares, sharedGroups: groups.size }
}

/** Folds the settled rests of a trace at one electrical cycle (4N commands), each direction for itself. */
export const foldPattern = (trace: MotorTrace): FoldedPattern => {
  const phases = 4 * trace.microsteps
  const electrical = (trace.stepsPerRev / 4) * (Math.PI / 180)
  const keep = settled(trace)
  const all = trace.commands.map((command, i) => ({
    phase: ((command % phases) + phases) % phases,
    error: (trace.anglesDeg[i] as number) * electrical - (2 * Math.PI * command) / phases,
    direction: trace.directions[i] as 1 | -1,
    group: `${trace.passes[i]} ${trace.directions[i]} ${Math.floor(command / trace.microsteps)}`,
  }))
  const used = all.filter((_, i) => keep[i])
  const meanError = used.reduce((sum, rest) => sum + rest.error, 0) / Math.max(used.length, 1)
  const centred = used.map((rest) => ({ ...rest, error: rest.error - meanError }))
  const legs = ([1, -1] as const)
    .map((direction) => ({ direction, rests: centred.filter((rest) => rest.direction === direction) }))
    .filter((leg) => leg.rests.length > 0)
    .map((leg) => foldLeg(leg.direction, leg.rests, phases))
  const cells = legs.reduce((sum, leg) => sum + leg.count.filter((n) => n > 0).length, 0)
  return {
    phases,
    legs,
    rests: used.length,
    meanError,
    ...scatterOf(centred, legs),
    scatterFreedom: used.length - cells,
    u: trace.uDeg * electrical,
  }
}
