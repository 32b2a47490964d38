import { describe, expect, it } from 'vitest'
import { keyFigures } from '#core/report/key-figures'
import { summaryText } from '#core/report/summary-text'
import { verdictSentence } from '#core/report/verdict-sentence'
import { measured, simulatedTrace, sixteen, threeOfFour } from './measured.ts'

describe('the summary in the terminal', () => {
  for (const columns of [60, 80])
    it(`keeps to ${columns} columns`, () => {
      for (const text of [sixteen, threeOfFour, simulatedTrace({ stepsPerRev: 200, microsteps: 16, commands: 400, uDeg: 0.2 })])
        for (const line of summaryText(measured(text), { columns }).split('\n')) expect([...line].length, line).toBeLessThanOrEqual(columns)
    })

  it('begins with the verdict and its reason, one sentence', () => {
    const result = measured(threeOfFour)
    const text = summaryText(result, { columns: 400 })
    expect(text.split('\n')[0]).toBe(verdictSentence(result))
    expect(verdictSentence(result)).toMatch(/^Trust this motor in full steps: .*half steps.*\.$/)
  })

  it('names every mode with its verdict', () => {
    const text = summaryText(measured(threeOfFour))
    expect(text).toMatch(/full steps +holds/)
    expect(text).toMatch(/1\/4 steps +fails/)
  })

  it('lists warnings', () => {
    const result = measured(sixteen)
    expect(summaryText({ ...result, warnings: ['Number the marks.'] })).toContain('! Number the marks.')
  })
})

describe('key figures', () => {
  it('carry uncertainty and unit', () => {
    const figures = Object.fromEntries(keyFigures(measured(sixteen)).map(({ name, text }) => [name, text]))
    expect(figures['position error, peak to peak']).toMatch(/^\d\.\d+° \(\d\.\d+ to \d\.\d+\)$/)
    expect(figures['largest increment error']).toMatch(/^\d\.\d+ microsteps \(.* to .*\)$/)
    expect(figures['effective microsteps per full step']).toMatch(/^\d\.\d+ \(.* to .*\)$/)
  })

  it('say the other reading where it is open when a merged run jumped', () => {
    const result = measured(threeOfFour)
    const last = result.figures.jumpsLast
    expect(last).not.toBeNull()
    const other = { ...result, figures: { ...result.figures, jumpsLast: last && { ...last, positionErrorPeakDeg: 6.5 } } }
    expect(keyFigures(other).find(({ name }) => name === 'position error, peak')?.text).toMatch(/, or 6\.50°/)
  })

  it('leave the other reading out where it reads the same', () => {
    const { figures, ...rest } = measured(threeOfFour)
    const same = { ...rest, figures: { ...figures, jumpsLast: figures.jumpsLast && { ...figures.jumpsLast, positionErrorPeakDeg: figures.positionErrorPeakDeg + 1e-4 } } }
    expect(keyFigures(same).find(({ name }) => name === 'position error, peak')?.text).not.toContain('or')
  })

  it('of a result that was kept before they had intervals stand alone', () => {
    const { figures, ...rest } = measured(sixteen)
    expect(keyFigures({ ...rest, figures: { ...figures, sizeIntervals: null } }).find(({ name }) => name === 'position error, peak')?.text).toMatch(/^\d\.\d+°$/)
  })

  it('judge nothing that the marks could not have shown', () => {
    const rows = keyFigures(measured(simulatedTrace({ stepsPerRev: 200, microsteps: 16, commands: 400, uDeg: 0.2 })))
    expect(rows.find(({ name }) => name.startsWith('merged'))?.text).toBe('not judged')
  })
})
