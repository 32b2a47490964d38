import type { Candidate } from '#core/detect/line/candidate'
import { pickedByChance } from '#core/detect/among-others'
import { notRuled, splitLongLines } from '#core/detect/line/long-lines'
import { photoPlane } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { usualDepth } from '#core/detect/dial/vote-centre'
import { evenRows } from './find-ruler.ts'
import { type Ruler, rulerFrom } from './ruler.ts'
import type { RulerFit } from './ruler-map.ts'
import { fullestRow, placesOf } from './find-row.ts'
import { withoutNet } from './squares-net.ts'

/** What may be marks, and the ruler beside them. */
export interface Parted {
  /** Candidates that are neither ticks nor numbers of a ruler. */
  readonly rest: readonly Candidate[]
  /** Rows that look like rulers and were not taken for the trace; the first is measured by. */
  readonly rulers: readonly Ruler[]
  /** Rows of even strokes that are rules of squared paper. */
  readonly nets: readonly RulerFit[]
  /** The row taken for marks, where it is as even as a ruler. */
  readonly suspect: Ruler | null
  readonly doubts: readonly string[]
}

const LEAST_ROW = 5
const MOST_RULERS = 3
/** One row must be this many times as even and as tidy as the other to be the ruler without a doubt. */
const CLEARLY = 2

/** The less, the more like a ruler: evenness and tidiness of the feet, each no better than a print can be seen. */
const looseness = ({ spread, scatter, lengths }: Ruler): number => (Math.max(0.005, spread) * Math.max(0.01, scatter)) ** 0.5 * (lengths.tickMm === null ? 2 : 1)

/** The region to leave out, as the hint wants it. */
const regionOf = ({ ticks }: Ruler): string => {
  const points = ticks.flatMap(({ foot, tip }) => [foot, tip])
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])]
  const [left, top] = [Math.floor(Math.min(...xs)) - 3, Math.floor(Math.min(...ys)) - 3]
  return [left, top, Math.ceil(Math.max(...xs)) + 3 - left, Math.ceil(Math.max(...ys)) + 3 - top].map((v) => Math.max(0, v)).join(',')
}

/** Is there a row that stands out from the other lines? */
const hasRow = (raster: Raster, candidates: readonly Candidate[], usual: number): boolean => {
  const pen = notRuled(splitLongLines(candidates).short, raster)
  const row = fullestRow(pen, photoPlane, usual)
  return placesOf(row) >= LEAST_ROW && !pickedByChance(pen, row.map((r) => r.candidate))
}

type Found = { readonly ruler: Ruler } | { readonly net: RulerFit; readonly bare: readonly Candidate[] }

/** The first of some even rows that is a ruler's, or squared paper's: then what is left without its rules. */
const rulerOrNet = (raster: Raster, rows: readonly RulerFit[], without: (row: RulerFit) => readonly Candidate[] | null): Found | null => {
  for (const row of rows) {
    const bare = without(row)
    if (bare !== null) return { net: row, bare }
    const ruler = rulerFrom(raster, row)
    if (ruler !== null) return { ruler }
  }
  return null
}

/** Rows that look like rulers, taken out one after the other as long as a row is left: rather of strokes that may be marks beside the ruler. */
const peel = (raster: Raster, all: readonly Candidate[]): { readonly rulers: readonly Ruler[]; readonly rest: readonly Candidate[]; readonly last: Ruler | null; readonly nets: readonly RulerFit[] } => {
  const usual = usualDepth(all)
  const rulers: Ruler[] = []
  const nets: RulerFit[] = []
  let rest = all
  for (let n = 0; n < MOST_RULERS; n++) {
    const lines = rest
    const found = rulerOrNet(raster, evenRows(raster, lines, usual), (row) => withoutNet(row, lines, all))
    if (found === null) break
    if ('bare' in found) {
      rest = found.bare
      nets.push(found.net)
      continue
    }
    const { ruler } = found
    const next = rest.filter((c) => !ruler.owns(c))
    const [first] = rulers
    const isTrace = first !== undefined && looseness(ruler) > CLEARLY * looseness(first)
    const left = isTrace ? undefined : [next.filter(ruler.isBeside), next].find((some) => hasRow(raster, some.filter((c) => !ruler.inLine(c)), usualDepth(some)))
    if (left === undefined) return { rulers, rest, last: ruler, nets }
    rulers.push(ruler)
    rest = left
  }
  return { rulers, rest, last: null, nets }
}

const bestFirst = (rulers: readonly Ruler[]): Ruler[] => [...rulers].sort((a, b) => Number(a.lengths.tickMm === null) - Number(b.lengths.tickMm === null) || looseness(a) - looseness(b))

const only = (one: Ruler): string[] =>
  one.lengths.tickMm === null
    ? []
    : [`the strokes taken for marks are as even as a ruler’s ticks and ${one.lengths.words.replace('its ticks’', 'their')}: if they are a ruler, the marks were not found; leave it out with --ignore ${regionOf(one)}`]

const either = (trace: Ruler, ruler: Ruler): string =>
  `two rows of strokes are both nearly as even as a ruler; ${trace.ticks.length} were taken for marks and ${ruler.ticks.length} for the ruler. If it is the other way round, leave the ruler out with --ignore ${regionOf(trace)}`

/**
 * Which row is the trace and which a ruler: a ruler’s ticks are even but for perspective, begin on one line, and their lengths
 * repeat; pen marks are none of that. Where every row looks like a ruler, the least even and tidy one is the trace, and a choice
 * that is not clear is said.
 */
export const partRows = (raster: Raster, candidates: readonly Candidate[]): Parted => {
  const { rulers: peeled, rest, last, nets } = peel(raster, candidates)
  const rulers = bestFirst(peeled)
  const [known] = rulers
  if (last === null || known === undefined) return { rest, rulers, nets, suspect: last, doubts: last === null ? [] : only(last) }
  const swapped = looseness(known) > looseness(last)
  const [trace, ruler] = swapped ? [known, last] : [last, known]
  const clear = looseness(trace) > CLEARLY * looseness(ruler)
  return { rest: candidates.filter((c) => (swapped ? trace.owns(c) || !ruler.owns(c) : rest.includes(c))), rulers: [ruler], nets, suspect: trace, doubts: clear ? [] : [either(trace, ruler)] }
}

/** The ruler's own ticks as the trace: nothing else in the picture can be one. */
export const tickedTrace = (candidates: readonly Candidate[], ruler: Ruler): Parted => ({ rest: candidates, rulers: [], nets: [], suspect: ruler, doubts: only(ruler) })
