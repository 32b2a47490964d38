import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { halvesBetween, type Winding, windingsOf } from './windings.ts'
import { type WireReading, wiresOf } from './wire-readings.ts'

export interface WireTolerance {
  /** Share by which halves and readings may differ. */
  readonly share: number
  /** Ω on top, for contacts and the meter's last digit. */
  readonly ohm: number
}

/** A winding that no reading contradicts. */
export interface FittingWinding {
  readonly winding: Winding
  /** Resistance of a half (of a whole coil without taps), Ω, mean of the readings; null with open readings only. */
  readonly halfOhm: number | null
}

export interface WireFindings {
  readonly kind: 'wires'
  readonly wires: readonly string[]
  /** Every winding that fits all readings; empty when they contradict one another. */
  readonly fitting: readonly FittingWinding[]
  /** Readings any one of which, left out, would make the others agree; only when they contradict. */
  readonly doubtful: readonly WireReading[]
  /** The pair to measure next, and how many of the fitting windings its answer leaves at most; null when one is left. */
  readonly next: { readonly wires: readonly [string, string]; readonly leavesAtMost: number } | null
}

export const usualTolerance: WireTolerance = { share: 0.1, ohm: 0.3 }

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

/** The half's resistance when a winding fits the readings, else undefined; null when no reading says it. */
const halfThatFits = (
  winding: Winding,
  readings: readonly WireReading[],
  { share, ohm }: WireTolerance,
): number | null | undefined => {
  const halves: { readonly ohm: number; readonly count: number }[] = []
  for (const reading of readings) {
    const count = halvesBetween(winding, reading.wires)
    if ((count === null) !== (reading.ohm === null)) return undefined
    if (count !== null && reading.ohm !== null) halves.push({ ohm: reading.ohm, count })
  }
  if (halves.length === 0) return null
  const half = mean(halves.map((reading) => reading.ohm / reading.count))
  return halves.every((reading) => Math.abs(reading.ohm - half * reading.count) <= share * half * reading.count + ohm)
    ? half
    : undefined
}

const fittingOf = (
  windings: readonly Winding[],
  readings: readonly WireReading[],
  tolerance: WireTolerance,
): readonly FittingWinding[] =>
  windings.flatMap((winding) => {
    const halfOhm = halfThatFits(winding, readings, tolerance)
    return halfOhm === undefined ? [] : [{ winding, halfOhm }]
  })

const pairsOf = (wires: readonly string[]): readonly (readonly [string, string])[] =>
  wires.flatMap((a, i) => wires.slice(i + 1).map((b) => [a, b] as const))

/** What the meter would show, coarse enough to be told apart: open, joined by an unknown amount, or the power of two of its ohms. */
const shown = ({ winding, halfOhm }: FittingWinding, pair: readonly [string, string]): string => {
  const halves = halvesBetween(winding, pair)
  if (halves === null) return 'open'
  return halfOhm === null || halfOhm <= 0 ? 'joined' : String(Math.round(Math.log2(halves * halfOhm) * 2))
}

/** The pair not yet measured whose answer, at worst, leaves the fewest windings; null when none would tell them apart. */
const nextPair = (
  wires: readonly string[],
  fitting: readonly FittingWinding[],
  readings: readonly WireReading[],
): WireFindings['next'] => {
  const measured = ([a, b]: readonly [string, string]): boolean =>
    readings.some((reading) => reading.wires.includes(a) && reading.wires.includes(b))
  const worst = pairsOf(wires)
    .filter((pair) => !measured(pair))
    .map((pair) => {
      const counts = new Map<string, number>()
      for (const each of fitting) counts.set(shown(each, pair), (counts.get(shown(each, pair)) ?? 0) + 1)
      return { wires: pair, leavesAtMost: Math.max(...counts.values()) }
    })
  const best = worst.toSorted((a, b) => a.leavesAtMost - b.leavesAtMost)[0]
  return best && best.leavesAtMost < fitting.length ? best : null
}

/**
 * Which windings the measured resistances allow, by trying every one that so many wires can be: a coil joins two wires, a centre
 * tap halves it, what is not joined is open. With contradictions, says which single reading is in doubt; while several windings
 * are left, says which pair to measure next. Readings on 5 and 8 wires cannot tell which halves share a phase.
 * @param wires all wires of the motor, when some were not measured yet; else those of the readings
 */
export const identifyWires = (
  readings: readonly WireReading[],
  wires: readonly string[] = wiresOf(readings),
  tolerance: WireTolerance = usualTolerance,
): WireFindings | Unmeasurable => {
  const windings = windingsOf(wires)
  if (windings.length === 0)
    return unmeasurable(
      `${wires.length} wires are named, and a two-phase stepper has 4, 5, 6 or 8`,
      'wires',
      'name every motor wire once, with the same name each time',
    )
  const fitting = fittingOf(windings, readings, tolerance)
  const without = (index: number): readonly WireReading[] => readings.filter((_, other) => other !== index)
  return {
    kind: 'wires',
    wires,
    fitting,
    doubtful:
      fitting.length > 0
        ? []
        : readings.filter((_, index) => fittingOf(windings, without(index), tolerance).length > 0),
    next: fitting.length > 1 ? nextPair(wires, fitting, readings) : null,
  }
}
