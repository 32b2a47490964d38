import { describe, expect, it } from 'vitest'
import { figureSet } from '#core/report/figures/figure-set'
import { measured, simulatedTrace, sixteen, threeOfFour, wholeTurn } from '../measured.ts'
import { notWellFormed } from '../well-formed.ts'

const mirror = simulatedTrace({ stepsPerRev: 200, microsteps: 8, commands: 64, uDeg: 0.01 })
  .replace('# steps-per-rev', '# rig: mirror\n# distance: 1520 mm\n# foot: 0 mm\n# steps-per-rev')
  .replace('0.01 deg', '0.5 mm')
  .replace(/^(-?[\d.]+),(\d+)$/gm, (_, angle: string, k: string) => `${(1520 * Math.tan((2 * Number(angle) * Math.PI) / 180)).toFixed(3)},${k}`)

const cases = { 'three of four merged, jumps unknown': threeOfFour, 'sixteen commands': sixteen, 'a mirror': mirror, 'a turn of 3,200': wholeTurn() }

for (const [name, text] of Object.entries(cases))
  describe(name, () => {
    const figures = figureSet(measured(text))

    it('every figure is well-formed XML', () => {
      for (const { svg } of figures) expect(notWellFormed(svg)).toBeNull()
    })

    it('holds no NaN, infinity or undefined', () => {
      for (const { svg } of figures) expect(svg).not.toMatch(/NaN|Infinity|undefined|null/)
    })

    it('every figure names a quantity and its unit on each axis', () => {
      const labels: Readonly<Record<string, readonly RegExp[]>> = {
        trace: [/shaft angle from the start mark, deg/],
        'position-error': [/command k, count/, /position error at the shaft, deg/],
        increments: [/command k, count/, /increment, microsteps/],
        'repeat-pattern': [/command within the electrical cycle, microsteps/, /mean position error, deg/],
        modes: [/in nominal increments of the mode/, /full steps/],
        harmonics: [/waves per electrical cycle/, /amplitude, deg/],
      }
      for (const { name: figure, svg } of figures) for (const label of labels[figure] ?? [/never/]) expect(svg, figure).toMatch(label)
    })

    it('stays small enough to draw in a moment', () => {
      for (const { svg } of figures) expect(svg.length).toBeLessThan(300_000)
    })
  })

describe('merged, missing and reversed', () => {
  const svg = (text: string, name: string): string => figureSet(measured(text)).find((figure) => figure.name === name)?.svg ?? ''

  it('are counted in words beside their shapes', () => {
    const increments = svg(threeOfFour, 'increments')
    expect(increments).toContain('merged: 48')
    expect(increments).toContain('missing position: 48')
    expect(increments).toMatch(/merged 2–3/)
  })

  it('a shaft that goes back is named too', () => {
    const back = '# steps-per-rev: 24\n# microsteps: 4\n# mark-uncertainty: 0.05 deg\nposition,command\n0,0\n3.75,1\n2.5,2\n11.25,3\n15,4\n18.75,5\n22.5,6\n26.25,7\n30,8\n'
    expect(svg(back, 'increments')).toMatch(/reversed: 1.*reversed 2/s)
    expect(svg(back, 'trace')).toContain('reversed: 1')
  })

  it('limits are drawn and named', () => {
    expect(svg(sixteen, 'increments')).toMatch(/limit 1\.5.*nominal 1.*limit 0\.5/s)
  })
})

it('the largest error of 3,200 stays in the thinned picture', () => {
  const result = measured(wholeTurn())
  const spiked = { ...result, rests: result.rests.map((rest, k) => (k === 1777 ? { ...rest, errorDeg: 0.9, errorRangeDeg: [0.9, 0.9] as [number, number] } : rest)) }
  const before = figureSet(result).find(({ name }) => name === 'position-error')?.svg
  const after = figureSet(spiked).find(({ name }) => name === 'position-error')?.svg ?? ''
  expect(after).not.toBe(before)
  expect(after).toMatch(/>1\.0</)
})
