import { describe, expect, it } from 'vitest'
import { rigFaults } from '#core/figures/rig-faults'
import { readTrace } from '#core/ingest/read-trace'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type Located, locate } from '#core/rig/locate'
import { offCentreOf } from '#core/rig/off-centre'
import { angleAt } from '#core/rig/shaft-angle'

const exactly = (value: number): { value: number; u: number } => ({ value, u: 0 })
const degrees = (rad: number): number => (rad * 180) / Math.PI

describe('optical lever: a mirror turned θ sends the beam 2θ, x = D·tan 2θ', () => {
  const mirror = (distance: number) => ({ kind: 'mirror', distanceMm: exactly(distance), footMm: exactly(0), ratio: 2 }) as const
  // Worked school problem (two public collections): θ = 3.5°, D = 1.5 m gives 0.184 m.
  it('0.184 m at 1.5 m is 3.5° to the digits given', () => {
    expect(angleAt(mirror(1500), 184)).toBeCloseTo(3.4966727, 6)
    expect(angleAt(mirror(1500), 184.17684)).toBeCloseTo(3.5, 6)
  })
  // Exact angles at D = 1 m, computed from the formula.
  const table = [
    [10, 0.286469349],
    [50, 1.431202613],
    [100, 2.855296569],
    [200, 5.654966237],
    [500, 13.282525589],
    [1000, 22.5],
  ] as const
  for (const [x, angle] of table) it(`${x} mm at 1 m: ${angle}°`, () => expect(angleAt(mirror(1000), x)).toBeCloseTo(angle, 8))
  it('a source on the shaft turns the beam once: half as sensitive', () => {
    expect(angleAt({ ...mirror(1000), ratio: 1 }, 1000)).toBeCloseTo(45, 12)
  })
})

const located = (text: string): Located => {
  const trace = readTrace(text)
  if (isUnmeasurable(trace)) throw new Error(trace.what)
  const found = locate(trace)
  if (isUnmeasurable(found)) throw new Error(found.what)
  return found
}

describe('rigs in closed form', () => {
  it('arc: θ = s/R', () => {
    const { marks } = located('# steps-per-rev: 200\n# microsteps: 1\n# rig: arc\n# radius: 100 mm\n0\n10\n20')
    expect(marks[2]?.angleDeg).toBeCloseTo(degrees(0.2), 12)
  })
  it('chord: θ = 2·asin(c/2R), added up from mark to mark', () => {
    const { marks } = located('# steps-per-rev: 6\n# microsteps: 1\n# rig: chord\n# radius: 100 mm\n0\n100\n100')
    expect(marks.map(({ angleDeg }) => Number(angleDeg.toFixed(9)))).toEqual([0, 60, 120])
  })
  it('gears 17:8 and 40:10 multiply: one pointer turn is 8.5 motor turns', () => {
    const { marks, turnDeg } = located('# steps-per-rev: 24\n# microsteps: 4\n# gears: 17:8, 40:10\n0\n1\n2')
    expect(turnDeg).toBeCloseTo(3060, 9)
    expect(marks[1]?.angleDeg).toBeCloseTo(8.5, 9)
  })
  it('a radius known to 1 % leaves 1 % of each angle open: for a ramp its spread about the middle', () => {
    const rows = Array.from({ length: 11 }, (_, i) => 10 * i).join('\n')
    const { common } = located(`# steps-per-rev: 200\n# microsteps: 16\n# rig: arc\n# radius: 100 ± 1 mm\n${rows}`)
    // Standard deviation (n) of 0 … 100 in tenths is √10 tenths; divided by R, and by 1.01 and 0.99 for the finite change either way.
    expect(common.find(({ source }) => source === 'radius')?.uDeg).toBeCloseTo(degrees(Math.sqrt(1000) / 100) * 0.01 * Math.sqrt((1.01 ** -2 + 0.99 ** -2) / 2), 9)
  })
})

// A pointer 80 mm long on paper whose centre lies 0.5 mm off: exact geometry, worst 0.35809396° at 90° (first order e/R = 0.35809862°).
describe('eccentricity of the paper circle', () => {
  const reading = (true_: number): number => {
    const rad = (true_ * Math.PI) / 180
    return degrees(Math.atan2(80 * Math.sin(rad), 80 * Math.cos(rad) + 0.5))
  }
  it('geometry of the check itself: −0.25210° at 45°, −0.35809° at 90°, −0.25434° at 135°', () => {
    expect(reading(45) - 45).toBeCloseTo(-0.2520982, 6)
    expect(reading(90) - 90).toBeCloseTo(-0.35809396, 7)
    expect(reading(135) - 135).toBeCloseTo(-0.25433632, 7)
  })
  it('over a full turn it is found as order 1 of the turn with amplitude e/R, and taken off to second order', () => {
    const errors = Array.from({ length: 97 }, (_, k) => {
      const angle = 3.75 * k
      return ((reading(angle) - angle + 540) % 360) - 180
    })
    const faults = rigFaults(errors, { stepsPerRev: 24, microsteps: 4, goesRound: true })
    expect(faults.removed.find(({ order }) => order === 1)?.amplitudeDeg).toBeCloseTo(0.35809862, 4)
    expect(faults.removed.every(({ order }) => order <= 2)).toBe(true)
    const offset = errors.slice(1).reduce((sum, e) => sum + e, 0) / 96
    for (const [k, e] of errors.entries()) expect(Math.abs(e - offset - (faults.correctionDeg[k] ?? 0))).toBeLessThan(1e-5)
  })
  it('shortcut 412.5″·e(µm)/D(mm) of encoder makers: 10 µm on 100 mm is 41″', () => {
    const amplitude = degrees(0.01 / 50) * 3600
    expect(amplitude).toBeCloseTo(41.25, 2)
    expect(amplitude).toBeCloseTo((412.5 * 10) / 100, 2)
  })
  it('over a short arc it is only bounded: the spread of the wave there, averaged over all directions of the offset', () => {
    const angles = Array.from({ length: 21 }, (_, i) => i)
    const perAxis = degrees(0.5 / Math.sqrt(3) / 80)
    const mc = Array.from({ length: 360 }, (_, phi) => {
      const wave = angles.map((a) => Math.sin(((a - phi) * Math.PI) / 180))
      const centre = wave.reduce((sum, v) => sum + v, 0) / wave.length
      return wave.reduce((sum, v) => sum + (v - centre) ** 2, 0) / wave.length
    })
    const expected = perAxis * Math.SQRT2 * Math.sqrt(mc.reduce((sum, v) => sum + v, 0) / 360)
    expect(offCentreOf(angles, 80).uDeg).toBeCloseTo(expected, 9)
  })
})

// What a mark is worth: u/R in degrees (pointer), u/2D (mirror); computed from the definitions.
describe('marks in millimetres as angles', () => {
  const pointer = [
    [50, 0.1, 0.1146],
    [80, 0.2, 0.1432],
    [100, 0.2887, 0.1654],
    [200, 0.5, 0.1432],
    [300, 0.2, 0.0382],
  ] as const
  for (const [radius, u, angle] of pointer)
    it(`pointer ${radius} mm, mark ${u} mm: ${angle}°`, () => {
      const { marks } = located(`# steps-per-rev: 200\n# microsteps: 4\n# radius: ${radius} mm\n# mark-uncertainty: ${u} mm\n0\n1\n2`)
      expect(marks[0]?.uDeg).toBeCloseTo(angle, 4)
    })
  const wall = [
    [500, 0.2, 0.01146],
    [1000, 0.5, 0.01432],
    [3000, 1, 0.00955],
  ] as const
  for (const [distance, u, angle] of wall)
    it(`wall at ${distance} mm, mark ${u} mm: ${angle}°`, () => {
      const { marks } = located(`# steps-per-rev: 200\n# microsteps: 4\n# rig: mirror\n# distance: ${distance} mm\n# foot: 0 mm\n# mark-uncertainty: ${u} mm\n0\n1\n2`)
      expect(marks[0]?.uDeg).toBeCloseTo(angle, 4)
    })
})
