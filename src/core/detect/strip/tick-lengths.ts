import { median, quantile, robustSpread } from '#core/numeric/median'

/** What the ticks' lengths say about the scale. */
export interface TickLengths {
  /** After how many ticks the lengths repeat; null when they do not. */
  readonly period: number | null
  /** What one tick is, mm; null when the lengths do not tell. */
  readonly tickMm: number | null
  readonly words: string
}

/** The longest tick but for a few that may have run into something. */
export const longestOf = (lengths: readonly number[]): number => quantile(lengths.map(Math.abs), 0.97)

/** Do lengths repeat as those of scales do? By fives, though it be of one or of two millimetres, or as one whose unit is known. */
export const isScale = ({ period, tickMm }: TickLengths): boolean => tickMm !== null || period === 5

const PERIODS = [2, 4, 5, 8, 10, 16, 20] as const
const INCH_MM = 25.4

const phase = (n: number, period: number): number => ((n % period) + period) % period

/** Usual length at each phase of a period. */
const folded = (lengths: readonly number[], index: readonly number[], period: number): number[] =>
  Array.from({ length: period }, (_, p) => median(lengths.filter((__, i) => phase(index[i] as number, period) === p)))

/** Mean departure from the folded lengths, each counted for no more than the usual length; raised for what each phase takes up itself. */
const left = (lengths: readonly number[], index: readonly number[], period: number): number => {
  const usual = folded(lengths, index, period)
  const cap = median(lengths)
  return lengths.reduce((sum, v, i) => sum + Math.min(cap, Math.abs(v - (usual[phase(index[i] as number, period)] as number))), 0) / Math.max(1, lengths.length - period)
}

/** Two medians are apart for sure by so many of their standard uncertainties. */
const SURE = 4

/** Is every tenth tick longer than the fifth between, though both be seen badly? Medians are π/2 times as variable as means. */
const fifthsDiffer = (lengths: readonly number[], index: readonly number[]): boolean =>
  Array.from({ length: 5 }, (_, p) => p).some((p) => {
    const halves = [p, p + 5].map((at) => lengths.filter((__, i) => phase(index[i] as number, 10) === at))
    if (halves.some((half) => half.length < 5)) return false
    const [a, b] = halves.map((half) => {
      const middle = median(half)
      return { middle, variance: (Math.PI / 2) * (robustSpread(half, middle) ** 2 / half.length) }
    }) as [{ middle: number; variance: number }, { middle: number; variance: number }]
    return Math.abs(a.middle - b.middle) > Math.max(0.1 * median(lengths), SURE * Math.sqrt(a.variance + b.variance))
  })

/** So many ticks to either side hold each of a scale's lengths, and its shortest are at least this share of them and a few more. */
const NEAR = 20
const SHORTEST = 0.35

/** Lengths as shares of the short ticks' near them: across a ruler the perspective is ill known, so they may grow from one end to the other. */
const beside = (lengths: readonly number[], index: readonly number[]): number[] =>
  lengths.map((length, i) => length / quantile(lengths.filter((_, j) => Math.abs((index[j] as number) - (index[i] as number)) <= NEAR), SHORTEST))

/** Folding makes the departures smaller by this share at least where ticks are few, and by so much more than chance, as a share and in chance's own spread (of mean departures: √(2·period)/ticks), where they are many but badly seen. */
const FEW_GAIN = 0.5
const GAIN = 0.1
const BEYOND_CHANCE = 6

const leastGain = (ticks: number, period: number): number => Math.min(FEW_GAIN, GAIN + (BEYOND_CHANCE * Math.sqrt(2 * period)) / ticks)

/** The shortest period that explains the lengths as well as any. */
const periodOf = (lengths: readonly number[], index: readonly number[]): number | null => {
  const span = Math.max(...index) - Math.min(...index)
  const tried = PERIODS.filter((p) => span >= 2 * p - 1).map((p) => ({ p, left: left(lengths, index, p) }))
  const least = Math.min(...tried.map((v) => v.left))
  const plain = left(lengths, index, 1)
  if (!tried.some((v) => v.left < (1 - leastGain(lengths.length, v.p)) * plain) || plain < 0.02 * median(lengths)) return null
  const shortest = tried.find((v) => v.left < 1.3 * least + 0.004 * median(lengths))?.p ?? null
  return shortest === 5 && fifthsDiffer(lengths, index) ? 10 : shortest
}

/** Is every second tick longer than the ones between? */
const alternates = (usual: readonly number[]): boolean => {
  const [even, odd] = [0, 1].map((k) => usual.filter((_, i) => i % 2 === k)) as [number[], number[]]
  return Math.min(...even) > 1.1 * Math.max(...odd) || Math.min(...odd) > 1.1 * Math.max(...even)
}

const longPhases = (usual: readonly number[]): number => {
  const short = median(usual)
  return usual.filter((v) => v > 1.15 * short).length
}

/**
 * Millimetre rulers are longer every fifth and tenth tick; half millimetres also every second; inch rulers by halves, quarters,
 * eighths and sixteenths (common practice, no source). A scale whose lengths repeat otherwise is of no known unit.
 * @param seen lengths of the ticks
 * @param index number of each tick
 */
export const tickLengths = (seen: readonly number[], index: readonly number[]): TickLengths => {
  const lengths = beside(seen, index)
  const period = periodOf(lengths, index)
  if (period === null) return { period, tickMm: null, words: 'its ticks do not differ in length in any regular way' }
  const usual = folded(lengths, index, period)
  const words = `its ticks’ lengths repeat every ${period}`
  if ((period === 10 || period === 20) && alternates(usual)) return { period, tickMm: 0.5, words: `${words}, every second one longer: half millimetres` }
  if (period === 10 && longPhases(usual) <= 2) return { period, tickMm: 1, words: `${words}: millimetres` }
  if (period === 16 && alternates(usual)) return { period, tickMm: INCH_MM / 16, words: `${words}, by halves: sixteenths of an inch` }
  if (period === 8 && alternates(usual)) return { period, tickMm: INCH_MM / 8, words: `${words}, by halves: eighths of an inch` }
  return { period, tickMm: null, words }
}
