import { describe, expect, it } from 'vitest'
import { cyclesIn, shiftIn, shiftSentence } from '#core/assign/lost-cycles'

const fullStepDeg = 7.5
const motor = { fullStepDeg, microsteps: 4 }
const commands = Array.from({ length: 97 }, (_, k) => k)
const trace = (shiftSteps: number, from: number): number[] => commands.map((k) => (k / 4 + (k >= from ? shiftSteps : 0) + 0.2 * Math.sin(k)) * fullStepDeg)

// A motor that loses step lands on a rest of the same kind: whole electrical cycles, four full steps each (physics of the two-phase motor).
describe('shiftIn', () => {
  it('names one electrical cycle lost at its command', () => {
    const shift = shiftIn(trace(-4, 50), commands, motor)
    expect(shift?.cycles).toBe(-1)
    expect(shift?.command).toBe(50)
    expect(shift && shiftSentence(shift)).toMatch(/From about command 50 on .* (3\.9|4\.\d) full steps behind .*lost an electrical cycle/)
  })
  it('names two cycles gained', () => {
    expect(shiftIn(trace(8, 30), commands, motor)?.cycles).toBe(2)
  })
  it('calls two full steps a mistake in marks or numbers, not lost steps', () => {
    const shift = shiftIn(trace(-2, 50), commands, motor)
    expect(shift?.cycles).toBeNull()
    expect(shift && shiftSentence(shift)).toMatch(/mark left out, a wrong number or a paper that slipped/)
  })
  it('says nothing about a motor that merely merges microsteps', () => {
    expect(shiftIn(commands.map((k) => Math.floor(k / 4) * fullStepDeg), commands, motor)).toBeNull()
  })
})

it('cyclesIn: multiples of four within three quarters of a full step', () => {
  expect([0, 1, 2, 3.4, 4.6, 6, -8.1, 12].map(cyclesIn)).toEqual([null, null, null, 1, 1, null, -2, 3])
})
