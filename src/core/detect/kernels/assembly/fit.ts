import { AMPLITUDES, BOW, HALF_LENGTH, HALF_WIDTH, KNOTS, SCALE, SIGMA } from './ink'
import { sortByInterval } from './pixels'
import { factor, nthSmallest, solve } from './solve'
import { strokeSystem } from './stroke'

/** Tukey's biweight: residuals beyond this many times the noise count for nothing. */
const CUT = 5.0
/** Early rounds leave room for a start beside the stroke: no less than this share of its darkness. */
function slackIn(round: i32): f64 {
  return round === 0 ? 2.0 : round === 1 ? 1.2 : LAST_SLACK
}
const EARLY = 3
/** And the last rounds for a hand's wobble: a tighter cut would drop one edge of a stroke wherever it departs from its bow, and bias the rest. */
const LAST_SLACK = 0.8
/** A start that is a fit already lies on the stroke. */
const SETTLED_SLACK = 0.5
const ROUNDS = 9
/** Residuals above this share of the stroke's darkness are something else, and tell nothing about how its noise clumps. */
const FOREIGN = 0.3
/** A line has settled whose step, in all parameters together, is less than this many of its own standard uncertainties (Newton's decrement). */
const ENOUGH = 0.25
/** With no more pixels than this rounds cost little, and faint strokes need them all. */
const CHEAP = 800
/** Noise and paper are told from about so many pixels. */
const SOME = 400

/** Parameters before the amplitudes, in this order: bow ×3, half width, sigma, ground ×3. */
const FIXED = 8
/** A state holds them, then half length, reach aside, cut, and the amplitudes. */
const CUT_AT = 80
const AMPLITUDES_AT = 88
const MOST_PARAMETERS = 32

const state = memory.data(8 * (3 + MOST_PARAMETERS))
const lower = memory.data(8 * MOST_PARAMETERS * MOST_PARAMETERS)
const right = memory.data(8 * (MOST_PARAMETERS + 2))
const step = memory.data(8 * MOST_PARAMETERS)
const starts = memory.data(4 * 2 * MOST_PARAMETERS)
const some = memory.data(8 * 2 * SOME)

/** Value that a share of the column's numbers, taken evenly, do not exceed; of their sizes if so asked. */
function levelOf(column: usize, count: i32, share: f64, sizes: bool): f64 {
  const every = max(1, count / SOME)
  let n = 0
  for (let i = 0; i < count; i += every) {
    const value = load<f64>(column + 8 * i)
    store<f64>(some + 8 * n++, sizes ? Math.abs(value) : value)
  }
  return nthSmallest(some, n, <i32>Math.floor(share * <f64>n))
}

/** Greatest of the amplitudes. */
function darkest(knots: i32): f64 {
  let most = -Infinity
  for (let k = 0; k < knots; k++) most = Math.max(most, load<f64>(state + AMPLITUDES_AT + 8 * k))
  return most
}

function startState(own: usize, knots: i32, paper: f64, reachS: f64): void {
  memory.copy(state, own + BOW, 24)
  store<f64>(state, load<f64>(own, HALF_WIDTH), 24)
  store<f64>(state, load<f64>(own, SIGMA), 32)
  store<f64>(state, paper, 40)
  store<f64>(state, 0, 48)
  store<f64>(state, 0, 56)
  store<f64>(state, load<f64>(own, HALF_LENGTH), 64)
  store<f64>(state, reachS, 72)
  memory.copy(state + AMPLITUDES_AT, own + AMPLITUDES, 8 * knots)
}

function expect(place: i32, size: i32, expected: f64, pull: f64): void {
  const diagonal = lower + 8 * (place * size + place)
  store<f64>(diagonal, load<f64>(diagonal) + pull)
  store<f64>(right + 8 * place, load<f64>(right + 8 * place) + pull * (expected - load<f64>(state + 8 * place)))
}

/** Adds weak expectations that keep the shape from running away where the pixels do not say, and to each diagonal element what keeps the rest solvable. */
function steady(own: usize, size: i32, noise: f64): void {
  for (let i = 0; i < size; i++) {
    const diagonal = lower + 8 * (i * size + i)
    store<f64>(diagonal, load<f64>(diagonal) * 1.000001 + 1e-9)
  }
  const unit = noise * noise
  const halfWidth = load<f64>(own, HALF_WIDTH)
  const sigma = load<f64>(own, SIGMA)
  expect(2, size, 0, unit / square(0.5 + 0.5 * halfWidth))
  expect(3, size, halfWidth, unit / square(0.5 * halfWidth + 0.2))
  expect(4, size, sigma, unit / square(0.35 * sigma))
}

@inline
function square(value: f64): f64 {
  return value * value
}

/** Share of the step that is taken: beyond 2 px of the line, 0.4 of the width or 0.3 of the blur its parts no longer go together. */
function believed(): f64 {
  let share = 1.0
  for (let i = 0; i < 3; i++) share = Math.min(share, 2 / Math.abs(load<f64>(step + 8 * i)))
  share = Math.min(share, (0.4 * load<f64>(state, 24)) / Math.abs(load<f64>(step, 24)))
  return Math.min(share, (0.3 * load<f64>(state, 32)) / Math.abs(load<f64>(step, 32)))
}

/** Moves a parameter of the state, at a place in bytes, by a share of its step; it stays above `least`. */
@inline
function move(at: usize, place: i32, share: f64, least: f64): void {
  store<f64>(state + at, Math.max(least, load<f64>(state + at) + share * load<f64>(step + 8 * place)))
}

/** Moves the state by the step and says how far the line moved, px. Ink never lightens paper. */
function moveState(knots: i32): f64 {
  const share = believed()
  for (let i = 0; i < FIXED; i++) move(8 * i, i, share, i === 3 ? 0.12 : i === 4 ? 0.35 : -Infinity)
  for (let k = 0; k < knots; k++) move(AMPLITUDES_AT + 8 * k, FIXED + k, share, 0)
  return Math.abs(share * load<f64>(step)) + Math.abs(share * load<f64>(step, 8))
}

/** How far the next step will move the line, as steps that shrink go on shrinking. */
function coming(moved: f64, before: f64): f64 {
  return moved < before ? (moved * moved) / before : moved
}

/** The step to take from the normal equations, and what the sum of squares falls by; NaN when they cannot be solved. */
function nextStep(size: i32): f64 {
  if (!factor(lower, size)) return NaN
  memory.copy(step, right, 8 * size)
  solve(lower, step, size)
  let fall = 0.0
  for (let i = 0; i < size; i++) fall += load<f64>(step + 8 * i) * load<f64>(right + 8 * i)
  return fall - fall === 0 ? fall : NaN
}

/** Writes the state back as ink, and what the fit is worth: see fitStroke. */
function finish(own: usize, size: i32, count: i32, cut: f64, found: usize): void {
  const knots = size - FIXED
  const weight = load<f64>(right + 8 * size)
  const noise = Math.sqrt(load<f64>(right + 8 * size, 8) / Math.max(1, weight - <f64>size))
  memory.copy(own + BOW, state, 24)
  store<f64>(own, load<f64>(state, 24), HALF_WIDTH)
  store<f64>(own, load<f64>(state, 32), SIGMA)
  store<f64>(own, Math.SQRT1_2 / load<f64>(state, 32), SCALE)
  memory.copy(own + AMPLITUDES, state + AMPLITUDES_AT, 8 * knots)
  memory.fill(step, 0, 8 * size)
  store<f64>(step, 1)
  solve(lower, step, size)
  store<f64>(found, noise)
  store<f64>(found, noise * Math.sqrt(Math.max(0, load<f64>(step))), 8)
  store<f64>(found, 1 - weight / <f64>count, 16)
  store<f64>(found, load<f64>(state, 40), 24)
  store<f64>(found, Math.min(cut, Math.max(CUT * noise, FOREIGN * darkest(knots))), 32)
}

/**
 * Least-squares fit of a stroke to the pixels around it, by Gauss–Newton steps with Tukey's weights.
 * @param own where the fit starts; what it finds is written over it
 * @param sorted room for the pixels sorted, four columns of `room` numbers, the fourth their residuals
 * @param columns room for eleven such columns
 * @param settled true when the start is already a fit, so that few rounds do
 * @param within a line that would move less than this in a further round, px, has settled
 * @param found noise, standard uncertainty of the middle's place, share of the weight lost, brightness of the paper, greatest residual that is noise
 * @returns false when there are too few pixels or the system is singular
 */
export function fitStroke(own: usize, pixels: usize, room: i32, count: i32, reachS: f64, sorted: usize, columns: usize, settled: bool, within: f64, found: usize): bool {
  const knots = <i32>load<f64>(own, KNOTS)
  const size = FIXED + knots
  if (count < 2 * size) return false
  startState(own, knots, levelOf(pixels + 16 * room, count, 0.7, false), reachS)
  sortByInterval(pixels, room, count, load<f64>(own, HALF_LENGTH), knots - 1, starts, sorted)
  const early = settled ? 0 : EARLY
  let cut = (settled ? SETTLED_SLACK : slackIn(0)) * darkest(knots)
  let before = 0.0
  for (let round = 0; round < ROUNDS; round++) {
    store<f64>(state, cut, CUT_AT)
    strokeSystem(sorted, room, starts, knots - 1, state, columns, lower, right)
    const noise = Math.max(0.3, levelOf(sorted + 24 * room, count, 0.5, true) / 0.6745)
    steady(own, size, noise)
    const fall = nextStep(size)
    if (isNaN(fall)) return false
    const moved = moveState(knots)
    cut = Math.max(CUT * noise, (settled ? LAST_SLACK : slackIn(round + 1)) * darkest(knots))
    const converged = coming(moved, before) < within || (count > CHEAP && fall < square(ENOUGH * noise))
    if (converged && round >= early) break
    before = moved
  }
  finish(own, size, count, cut, found)
  return true
}
