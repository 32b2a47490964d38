import type { Sensor } from './sensor.ts'
import type { Mm } from './ink-sheet.ts'
import type { CastShadow, Light } from './light.ts'
import type { Fold, Paper, Ruling, Stain } from './paper.ts'
import type { Random } from './random.ts'
import type { Table } from './table.ts'

const TABLES: readonly Table[] = [
  { kind: 'wood', colour: [0.34, 0.19, 0.09], angle: 0 },
  { kind: 'wood', colour: [0.48, 0.32, 0.18], angle: 0 },
  { kind: 'wood', colour: [0.16, 0.08, 0.045], angle: 0 },
  { kind: 'cloth', colour: [0.12, 0.16, 0.3], angle: 0 },
  { kind: 'cloth', colour: [0.35, 0.3, 0.24], angle: 0 },
  { kind: 'mat', colour: [0.03, 0.12, 0.08], angle: 0 },
  { kind: 'mat', colour: [0.035, 0.036, 0.04], angle: 0 },
  { kind: 'pale', colour: [0.56, 0.55, 0.53], angle: 0 },
  { kind: 'pale', colour: [0.66, 0.66, 0.67], angle: 0 },
]

/** A table; near-white ones only when wanted. */
export const chooseTable = (random: Random, paleToo: boolean): Table => {
  const table = random.pick(TABLES.filter((t) => paleToo || t.kind !== 'pale'))
  return { ...table, angle: random.range(-0.3, 0.3) + (random.chance(0.3) ? Math.PI / 2 : 0) }
}

const A4: Mm = [210, 297]
const LETTER: Mm = [215.9, 279.4]

export const choosePaper = (random: Random, wish: { readonly clutter: number; readonly landscape: boolean }): Paper => {
  const isLetter = random.chance(0.3)
  const [w, h] = isLetter ? LETTER : A4
  const white = random.range(0.78, 0.88)
  return {
    name: isLetter ? 'letter' : 'a4',
    sizeMm: wish.landscape ? [h, w] : [w, h],
    colour: [white, white * random.range(0.98, 1), white * random.range(0.92, 1)],
    texture: random.range(0.002, 0.009),
    folds: random.chance(wish.clutter * 0.5) ? chooseFolds(random, wish.landscape ? [h, w] : [w, h]) : [],
    ruling: random.chance(wish.clutter * 0.55) ? chooseRuling(random) : null,
    stains: random.chance(wish.clutter * 0.6) ? chooseStains(random, wish.landscape ? [h, w] : [w, h]) : [],
  }
}

const chooseFolds = (random: Random, [w, h]: Mm): readonly Fold[] => {
  const across: Fold = { throughMm: [w / 2, h * random.range(0.47, 0.53)], angle: random.range(-0.01, 0.01), strength: random.range(0.01, 0.035) * random.sign() }
  const down: Fold = { throughMm: [w * random.range(0.47, 0.53), h / 2], angle: Math.PI / 2 + random.range(-0.01, 0.01), strength: random.range(0.01, 0.035) * random.sign() }
  return random.pick([[across], [down], [across, down]])
}

const chooseRuling = (random: Random): Ruling => {
  const squared = random.chance(0.6)
  const faint = random.range(0.6, 1.5)
  const tone = random.pick([[0.32, 0.16, 0.05], [0.18, 0.18, 0.17], [0.3, 0.2, 0.28]] as const)
  return { stepMm: squared ? 5 : random.pick([7, 8, 8.7]), widthMm: random.range(0.12, 0.3), squared, density: [tone[0] * faint, tone[1] * faint, tone[2] * faint] }
}

const chooseStains = (random: Random, [w, h]: Mm): readonly Stain[] => {
  const place = (): Mm => [w * random.range(0.1, 0.9), h * random.range(0.1, 0.9)]
  const ring: Stain = { kind: 'ring', centreMm: place(), radiusMm: random.range(33, 44), density: [0.1, 0.2, 0.38], angle: 0, stretch: 1 }
  const smudge = (): Stain => {
    const d = random.range(0.08, 0.3)
    return { kind: 'smudge', centreMm: place(), radiusMm: random.range(3, 9), density: [d, d, d * 0.95], angle: random.range(0, 3.14), stretch: random.range(1.5, 4) }
  }
  return random.pick([[ring], [smudge(), smudge()], [ring, smudge()]])
}

/** A hand or a phone between lamp and sheet. */
const chooseShadow = (random: Random, around: Mm, reach: number): CastShadow => {
  const toward = random.range(0, 2 * Math.PI)
  const [dx, dy] = [Math.cos(toward), Math.sin(toward)]
  const tip: Mm = [around[0] + dx * reach * random.range(0.1, 0.7) - dy * random.range(-40, 40), around[1] + dy * reach * random.range(0.1, 0.7) + dx * random.range(-40, 40)]
  const away = (k: number, side: number): Mm => [tip[0] + dx * k - dy * side, tip[1] + dy * k + dx * side]
  const hand = [{ a: away(90, 0), b: away(320, random.range(-60, 60)), radiusMm: random.range(38, 60) }]
  const fingers = random.chance(0.6) ? [-42, -15, 12, 38].map((side) => ({ a: away(random.range(0, 25), side), b: away(100, side * 0.7), radiusMm: random.range(8, 11) })) : []
  return { capsules: [...hand, ...fingers], softMm: random.range(3, 22), left: random.range(0.4, 0.75) }
}

export const chooseLight = (random: Random, around: Mm, wish: { readonly uneven: number; readonly shadow: boolean }): Light => {
  const slope = random.range(0, 0.0022) * wish.uneven
  const angle = random.range(0, 2 * Math.PI)
  const warm = random.range(-0.06, 0.1)
  return {
    slope: [slope * Math.cos(angle), slope * Math.sin(angle)],
    aroundMm: around,
    pool: random.chance(0.5) ? { atMm: [around[0] + random.range(-120, 120), around[1] + random.range(-120, 120)], amount: random.range(0.1, 0.4) * wish.uneven, radiusMm: random.range(80, 200) } : null,
    vignette: random.range(0.05, 0.25),
    tint: [1 + warm, 1, 1 - warm * 1.3],
    shadows: wish.shadow ? [chooseShadow(random, around, 110)] : [],
  }
}

/** `rough` 0: a good phone held still in daylight; 1: poor light, unsteady. `level`: linear brightness of the paper, which the phone meters. */
export const chooseSensor = (random: Random, rough: number, seed: number, level: number): Sensor => {
  const motion = random.chance(0.3 + 0.4 * rough) ? random.range(0, 0.8 + 1.8 * rough) : 0
  const angle = random.range(0, Math.PI)
  return {
    blurPx: random.range(0.5, 0.8 + 0.5 * rough),
    motionPx: [motion * Math.cos(angle), motion * Math.sin(angle)],
    shot: random.range(0.00005, 0.0003 + 0.0009 * rough),
    read: random.range(0.0008, 0.002 + 0.003 * rough),
    flatNoise: 0,
    sharpen: { amount: random.chance(0.75) ? random.range(0.2, 0.9) : 0, radiusPx: random.range(0.8, 1.6) },
    exposure: random.range(0.52 - 0.12 * rough, 0.78) / level,
    tone: 'srgb',
    seed,
  }
}
