import { describe, expect, it } from 'vitest'
import { leverTorque, readLeverWeight } from '#core/prepare/identify/lever-torque'
import { speedLadder } from '#core/prepare/identify/speed-ladder'
import { shareText, stepsFromTurn } from '#core/prepare/identify/steps-per-rev'
import { torqueSheet } from '#core/prepare/identify/torque-sheet'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const steps = (commands: number, microsteps: number, turnedDeg: number, uDeg: number) => {
  const outcome = stepsFromTurn({ commands, microsteps, turnedDeg, uDeg })
  if (isUnmeasurable(outcome)) throw new Error(outcome.what)
  return outcome
}

describe('steps per turn from a turn of commands', () => {
  it('96 half-step commands for one turn: 48 steps, out of question any other', () => {
    const { stepsPerRev, u, families } = steps(96, 2, 360, 5)
    expect([stepsPerRev, families[0]?.stepsPerRev]).toEqual([48, 48])
    expect(u).toBeCloseTo((48 * 5) / 360, 12)
    expect(families[0]?.share).toBeGreaterThan(0.999)
  })

  it('a tenth of a turn read to 3° cannot tell 180 from 200', () => {
    const { verdict, families } = steps(20, 1, 37.5, 3)
    expect(verdict).toContain('Perhaps')
    expect(
      families
        .slice(0, 2)
        .map(({ stepsPerRev }) => stepsPerRev)
        .sort(),
    ).toEqual([180, 200])
  })

  it('a geared motor fits no family', () => {
    expect(steps(2038, 1, 360, 5).verdict).toContain('look for a gear')
  })

  it('its share is honest: over many turns read with normal error, families held at 70 to 90 % are right about as often (simulated)', () => {
    const random = seededRandom(21)
    const held = { times: 0, right: 0, claimed: 0 }
    for (let turn = 0; turn < 4000; turn += 1) {
      const truth = [180, 200][Math.floor(random() * 2)] ?? 200
      const exact = (30 * 360) / truth
      const [best] = steps(30, 1, exact + 3.5 * normal(random), 3.5).families
      if (!best || best.share < 0.7 || best.share > 0.9 || ![180, 200].includes(best.stepsPerRev)) continue
      held.times += 1
      held.claimed += best.share
      held.right += best.stepsPerRev === truth ? 1 : 0
    }
    expect(held.times).toBeGreaterThan(300)
    // Four standard errors of a share of about 0.8 over the times it was claimed.
    expect(Math.abs(held.right / held.times - held.claimed / held.times)).toBeLessThan(
      (4 * 0.4) / Math.sqrt(held.times),
    )
  })

  it('is never quite sure in words', () => {
    expect([1, 0.5, 0].map(shareText)).toEqual(['> 99.9 %', '50.0 %', '< 0.1 %'])
    expect(isUnmeasurable(stepsFromTurn({ commands: 4, microsteps: 1, turnedDeg: 0, uDeg: 5 }))).toBe(true)
  })
})

const weight = (text: string) => {
  const read = readLeverWeight(text, 'x')
  if (isUnmeasurable(read)) throw new Error(read.what)
  return read
}

describe('torque by lever and weight', () => {
  it('1 kg at 1 cm is 1 kgf·cm = 0.0980665 N·m (standard gravity, CGPM 1901)', () => {
    expect(leverTorque(weight('1 kg at 1 cm')).torqueNm).toBeCloseTo(0.0980665, 12)
  })

  it('adds what is not known: mass, radius, gap between held and slipped (rectangular), local gravity', () => {
    const { torqueNm, uNm, contributions } = leverTorque(weight('0.20..0.22 kg at 100 ± 1 mm'))
    expect(torqueNm).toBeCloseTo(0.21 * 9.80665 * 0.1, 12)
    expect(contributions.map(({ source }) => source)).toHaveLength(3)
    expect(uNm / torqueNm).toBeCloseTo(Math.hypot(0.01 / 0.21 / Math.sqrt(3), 0.01, 0.003 / Math.sqrt(3)), 9)
  })

  it('agrees with a Monte Carlo of the same weighing within 5 % (simulated)', () => {
    const random = seededRandom(4)
    const draws = Array.from(
      { length: 20_000 },
      () => (0.2 + 0.02 * random()) * 9.80665 * (1 + 0.003 * (2 * random() - 1)) * (100 + normal(random)) * 1e-3,
    )
    const centre = draws.reduce((sum, value) => sum + value, 0) / draws.length
    const spread = Math.sqrt(draws.reduce((sum, value) => sum + (value - centre) ** 2, 0) / draws.length)
    expect(leverTorque(weight('0.20..0.22 kg at 100 ± 1 mm')).uNm / spread).toBeCloseTo(1, 1)
  })

  it.each(['0.2 kg', 'heavy at 100 mm', '0.3..0.2 kg at 100 mm', '0.2 kg at 0 mm', '0.2 m at 100 mm'])(
    'refuses "%s"',
    (text) => {
      expect(isUnmeasurable(readLeverWeight(text, 'x'))).toBe(true)
    },
  )

  it('expects microsteps to merge where detent and friction pass sin(90°/N): 12 % stays above 1/16 but not 1/8', () => {
    const sheet = torqueSheet({
      holding: weight('200 g at 100 mm'),
      detent: weight('20 g at 100 mm'),
      friction: weight('4 g at 100 mm'),
    })
    expect(sheet.dead?.share).toBeCloseTo(0.12, 12)
    expect(sheet.finestLikely).toBe(8) // sin(90°/8) = 0.195, sin(90°/16) = 0.098
  })

  it('warns of jumps from a quarter of holding torque on (exact: the slope of command against rest reaches zero)', () => {
    expect(
      torqueSheet({ holding: weight('80 g at 100 mm'), detent: weight('20 g at 100 mm'), friction: null }).remarks.join(
        ' ',
      ),
    ).toContain('jump')
  })

  it('says whose weight or lever counts as exact because nobody said how well it is known', () => {
    const said = torqueSheet({ holding: weight('0.20..0.22 kg at 100 ± 1 mm'), detent: weight('20 ± 1 g at 100 mm'), friction: weight('5 g at 100 ± 1 mm') }).remarks
    expect(said.join('\n')).toMatch(/^Weight or lever of detent, friction was given without an uncertainty/m)
    expect(torqueSheet({ holding: weight('0.20..0.22 kg at 100 ± 1 mm'), detent: null, friction: null }).remarks).toEqual([])
  })
})

const ladder = (...runs: readonly (readonly [number, number])[]) => {
  const outcome = speedLadder(runs.map(([rate, offsetSteps]) => ({ rate, offsetSteps })))
  if (isUnmeasurable(outcome)) throw new Error(outcome.what)
  return outcome
}

describe('speed ladder: lost steps come in fours (a published article on positioning accuracy)', () => {
  it('takes the highest rate below the first loss', () => {
    expect(ladder([200, 0], [400, 0.2], [600, -4], [500, 0])).toMatchObject({
      highestSafe: 500,
      lowestLost: 600,
      next: 550,
    })
  })

  it('7.2° off on a 200-step motor is a lost cycle; 1.8° or 3.6° is something else', () => {
    expect(
      ladder([1, 7.2 / 1.8], [2, 1], [3, 2], [4, 8]).steps.map(({ outcome, cycles }) => [outcome, cycles]),
    ).toEqual([
      ['lost steps', 1],
      ['something else', 0],
      ['something else', 0],
      ['lost steps', 2],
    ])
  })

  it('does not count a good run above a bad one', () => {
    const found = ladder([200, 0], [300, 4], [400, 0])
    expect(found.highestSafe).toBe(200)
    expect(found.remarks.join(' ')).toContain('resonance')
  })

  it('goes up by half while nothing is lost, down by half while all is', () => {
    expect(ladder([200, 0])).toMatchObject({ highestSafe: 200, lowestLost: null, next: 300 })
    expect(ladder([200, -8])).toMatchObject({ highestSafe: null, lowestLost: 200, next: 100 })
    expect(isUnmeasurable(speedLadder([]))).toBe(true)
    expect(isUnmeasurable(speedLadder([{ rate: 100, offsetSteps: Number.NaN }]))).toBe(true)
  })
})
