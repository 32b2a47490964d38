import { median } from '#core/numeric/median'
import { weightedQuantile } from '#core/numeric/weighted-quantile'
import { turnBetween } from '#core/detect/plane-map'
import { TOO_FAINT } from './judge-marks.ts'
import type { Ray } from '#core/detect/centre/seen-from-centre'

/** What the bulk of the marks looks like; a stroke that is unlike it is not one of them. */
interface Population {
  readonly width: number
  readonly depth: number
  readonly length: number
  /** Radii between which most marks have ink. */
  readonly zone: readonly [inner: number, outer: number]
}

interface Selection {
  readonly taken: readonly Ray[]
  readonly refused: readonly { readonly ray: Ray; readonly why: string }[]
}

/** Marks begin at least this share of their length away from the shaft, or, where most reach further in, that. */
const CLEAR = 0.25
const NEARLY = 0.06
const SEVERAL = 6

/** Greatest lean of a hand-drawn mark, rad. */
const MOST_LEAN = (7 * Math.PI) / 180
/** And of one that is like the others in all else: a short stroke drawn in haste. */
const MOST_HASTE = (15 * Math.PI) / 180

/** A hand leans no more than this as a rule, rad; the strokes of a number lean anyhow. */
const STEADY = (3 * Math.PI) / 180

const BINS = 120

/**
 * Radii covered by many differently directed strokes: from where the count passes a third of its peak to where it falls below. A stroke counts
 * for less the paler, the shorter and the more aslant it is: numbers written beside the marks are made of more strokes than there are marks.
 */
const ringOf = (rays: readonly Ray[]): readonly [number, number] => {
  const most = Math.max(...rays.map((r) => r.outer))
  const usual = Math.max(...rays.map((r) => r.candidate.depth))
  const length = (r: Ray): number => r.outer - r.inner
  const usualLength = weightedQuantile(rays, 0.5, length, length)
  const counts = Array.from({ length: BINS }, () => new Map<number, number>())
  for (const ray of rays) {
    const direction = Math.round((ray.bearing * 180) / Math.PI / 0.4)
    const worth = Math.min(1, (2 * ray.candidate.depth) / usual) * Math.min(1, length(ray) / usualLength) / Math.max(1, Math.abs(ray.lean) / STEADY)
    for (let i = Math.floor((ray.inner / most) * BINS); i <= Math.min(BINS - 1, (ray.outer / most) * BINS); i++) {
      const seen = counts[i]
      seen?.set(direction, Math.max(worth, seen.get(direction) ?? 0))
    }
  }
  const heights = counts.map((seen) => [...seen.values()].reduce((sum, worth) => sum + worth, 0))
  const smooth = heights.map((h, i) => (h * 2 + (heights[i - 1] ?? 0) + (heights[i + 1] ?? 0)) / 4)
  const peak = smooth.indexOf(Math.max(...smooth))
  let low = peak
  let high = peak
  while (low > 0 && (smooth[low - 1] as number) > (smooth[peak] as number) / 3) low--
  while (high < BINS - 1 && (smooth[high + 1] as number) > (smooth[peak] as number) / 3) high++
  return [(low / BINS) * most, ((high + 1) / BINS) * most]
}

const overlap = (ray: Ray, [low, high]: readonly [number, number]): number => Math.max(0, Math.min(ray.outer, high) - Math.max(ray.inner, low))

const populationOf = (rays: readonly Ray[]): Population => {
  const zone = ringOf(rays)
  const inside = rays.filter((r) => overlap(r, zone) > 0.5 * (r.outer - r.inner))
  const bulk = inside.length >= 3 ? inside : rays
  const usual = (of: (r: Ray) => number): number => weightedQuantile(bulk, 0.5, of, (r) => (r.outer - r.inner) * r.candidate.depth)
  return {
    zone,
    width: usual((r) => r.width),
    depth: usual((r) => r.candidate.depth),
    length: median(bulk.map((r) => r.outer - r.inner)),
  }
}

const TOO_WIDE = 'too wide: a pointer or a shadow'

/** As many broad strokes that are alike and stand abreast may be marks drawn so: their fits decide. */
const ALIKE_ENOUGH = 3

const alike = (a: Ray, b: Ray): boolean =>
  Math.abs(a.width - b.width) < 0.3 * Math.min(a.width, b.width) && Math.min(Math.abs(a.inner - b.inner), Math.abs(a.outer - b.outer)) < 0.35 * Math.min(a.outer - a.inner, b.outer - b.inner)

/** Takes back what was said against broad strokes where several are alike. */
const forgiveAlike = <T extends { readonly ray: Ray; readonly why: string | null }>(judged: readonly T[]): (T | { readonly ray: Ray; readonly why: null })[] => {
  const wide = judged.filter((j) => j.why === TOO_WIDE)
  return judged.map((j) => (j.why === TOO_WIDE && wide.filter((other) => alike(j.ray, other.ray)).length >= ALIKE_ENOUGH ? { ray: j.ray, why: null } : j))
}

/** Is a stroke so much like the marks that its lean alone, or a line that crosses it, does not speak against it? */
const isAlike = (ray: Ray, { width, depth, length, zone }: Population): boolean => {
  const own = ray.outer - ray.inner
  const like = (value: number, usual: number): boolean => value > 0.6 * usual && value < 1.6 * usual
  return overlap(ray, zone) > 0.7 * own && like(ray.width, width) && ray.candidate.depth > 0.6 * depth && own > 0.35 * length && own < 1.6 * length
}

/** Why a stroke is not one of the marks; null when it is. */
const objection = (ray: Ray, population: Population): string | null => {
  const { width, depth, length, zone } = population
  const own = ray.outer - ray.inner
  if (overlap(ray, zone) < 0.3 * Math.min(own, zone[1] - zone[0])) return AWAY
  if (own < 0.25 * length) return 'too short'
  if (own > 3 * length && own > 1.6 * (zone[1] - zone[0])) return 'too long: a ruled line, a fold or the pointer'
  if (ray.width > 2.6 * width) return TOO_WIDE
  if (ray.candidate.depth < 0.18 * depth) return TOO_FAINT
  if (ray.candidate.share < 0.3 && !isAlike(ray, population)) return 'part of a curve'
  return null
}

/** Nearest marks whose ring a stroke is compared with. */
const BESIDE = 5

/** Value at 0 of the line through places and values that Theil and Sen draw: slope and height are medians. */
const levelAt0 = (places: readonly number[], values: readonly number[]): number => {
  const slopes = places.flatMap((p, i) => places.slice(i + 1).flatMap((q, j) => (q === p ? [] : [((values[i + j + 1] as number) - (values[i] as number)) / (q - p)])))
  const slope = slopes.length === 0 ? 0 : median(slopes)
  return median(values.map((v, i) => v - slope * (places[i] as number)))
}

/** Radii of the ring that the marks nearest to a stroke make there: a slanting camera smears the ring of all. */
const zoneBeside = (ray: Ray, taken: readonly Ray[]): Population['zone'] => {
  const near = taken.map((r) => ({ r, turn: turnBetween(r.bearing, ray.bearing) })).sort((a, b) => Math.abs(a.turn) - Math.abs(b.turn)).slice(0, BESIDE)
  const turns = near.map(({ turn }) => turn)
  return [levelAt0(turns, near.map(({ r }) => r.inner)), levelAt0(turns, near.map(({ r }) => r.outer))]
}

const AWAY = 'away from the ring of marks'
interface JudgedRay {
  readonly ray: Ray
  readonly why: string | null
}

/** Judges what lies away from the ring of all by the marks beside it; each that is taken makes the ring known a little farther round. */
const growRing = (judged: readonly JudgedRay[], population: Population): readonly JudgedRay[] => {
  const sure = judged.filter((j) => j.why === null).map((j) => j.ray)
  if (sure.length < BESIDE) return judged
  const next = judged.map(({ ray, why }) => ({ ray, why: why === AWAY ? objection(ray, { ...population, zone: zoneBeside(ray, sure) }) : why }))
  return next.some((j, i) => j.why === null && judged[i]?.why === AWAY) ? growRing(next, population) : next
}

/** Two finds for one mark: same bearing to within its own width, radii that overlap or follow each other. */
const sameMark = (a: Ray, b: Ray): boolean => {
  const radius = Math.max(1e-9, Math.min((a.inner + a.outer) / 2, (b.inner + b.outer) / 2))
  const turn = Math.abs(turnBetween(a.bearing, b.bearing))
  return turn * radius < 0.6 * Math.max(a.width, b.width)
}

const dropDoubles = (rays: readonly Ray[]): { readonly kept: Ray[]; readonly doubles: Ray[] } => {
  const kept: Ray[] = []
  const doubles: Ray[] = []
  for (const ray of [...rays].sort((a, b) => b.outer - b.inner - (a.outer - a.inner))) {
    if (kept.some((other) => sameMark(other, ray))) doubles.push(ray)
    else kept.push(ray)
  }
  return { kept, doubles }
}

/**
 * Tells marks from other radial lines by what most of them have in common: ring, length, width, contrast.
 * @param radiusRange plane units, when it is known
 * @returns null when fewer than two strokes point at the centre
 */
export const selectMarks = (rays: readonly Ray[], radiusRange?: readonly [number, number]): Selection | null => {
  const inRange = (r: Ray): boolean => {
    const middle = (r.inner + r.outer) / 2
    return radiusRange === undefined || (middle >= radiusRange[0] && middle <= radiusRange[1])
  }
  const slack = (r: Ray): number => MOST_LEAN + (1.5 * r.candidate.widthPx) / Math.max(1, r.candidate.lengthPx) / 3
  const clearBy = (share: number): Ray[] => rays.filter((r) => Math.abs(r.lean) < slack(r) && inRange(r) && r.inner > share * (r.outer - r.inner))
  const clear = clearBy(CLEAR)
  const nearly = clearBy(NEARLY)
  // Long strokes that nearly meet at the shaft, where they are the most; else what comes so near it is a pointer or a hair of the cross.
  const radial = clear.length < nearly.length / 2 && nearly.length >= SEVERAL ? nearly : clear
  if (radial.length < 2) return null
  const population = populationOf(radial)
  const hasty = rays.filter((r) => !radial.includes(r) && Math.abs(r.lean) < MOST_HASTE && inRange(r) && r.candidate.share > 0.7 && isAlike(r, population))
  const first = [...radial, ...hasty].map((ray) => ({ ray, why: objection(ray, population) }))
  const judged = forgiveAlike(growRing(first, population))
  const { kept, doubles } = dropDoubles(judged.filter((j) => j.why === null).map((j) => j.ray))
  const refused = judged.flatMap(({ ray, why }) => (why === null ? [] : [{ ray, why }]))
  return { taken: kept.sort((a, b) => a.bearing - b.bearing), refused: [...refused, ...doubles.map((ray) => ({ ray, why: 'a second find of one mark' }))] }
}
