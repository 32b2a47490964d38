import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { locate } from '#core/rig/locate'

// 48 steps, 1/4, radius 80 mm; a chord of the angle a is 2R·sin(a/2).
const chord = (deg: number): number => 160 * Math.sin((deg * Math.PI) / 360)
const locatedFrom = (lengths: readonly number[]) => {
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# rig: chord', '# radius: 80 mm', 'position', ...lengths.map((mm) => mm.toFixed(4))].join('\n'))
  return trace.kind === 'trace' ? locate(trace) : trace
}
const commands = Array.from({ length: 25 }, (_, k) => k)

describe('chords', () => {
  it('from the mark before add up to the angle', () => {
    const located = locatedFrom(commands.map((k) => (k === 0 ? 0 : chord(1.875))))
    expect('marks' in located && located.marks.at(-1)?.angleDeg).toBeCloseTo(45, 2)
  })
  it('from the first mark, or added up, are told by their growth and asked for anew', () => {
    for (const lengths of [commands.map((k) => chord(1.875 * k)), commands.map((k) => k * chord(1.875))]) expect(locatedFrom(lengths)).toMatchObject({ what: expect.stringContaining('grow from row to row') })
  })
  it('of a motor that leaps are none of these', () => expect(locatedFrom(commands.map((k) => chord(k % 4 === 0 ? 7 : 0.2 + (k % 3) * 0.1)))).toHaveProperty('marks'))
})
