import Papa from 'papaparse'
import { describe, expect, it } from 'vitest'
import { indexCsv, indexLines, indexMarkdown } from '#core/report/note/index-table'
import { noteBlock } from '#core/report/note/note-block'
import { noteIndex } from '#core/report/note/note-index'
import { placeBlock } from '#core/report/note/place-block'
import { readNeed } from '#core/report/note/read-need'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { sampleResult } from './sample-result.ts'

const tested = (head: string): string => {
  const text = placeBlock(head, 't', noteBlock(sampleResult('flap')))
  if (isUnmeasurable(text)) throw new Error(text.what)
  return text
}

const need = (words: string) => {
  const read = readNeed(words, 'x')
  if (isUnmeasurable(read)) throw new Error(read.what)
  return read
}

const notes = [
  { path: 'b/flap.md', text: tested('---\npart: "=SUM(A1)"\nfound-in: car | heater\n---\n') },
  { path: 'a.md', text: '# just words\n' },
  { path: 'c.md', text: '---\npart: [broken\n---\n' },
  { path: 'd.md', text: '<!-- stepwitness begin x -->\n' },
]

describe('an index of notes', () => {
  const index = noteIndex(notes)

  it('has a row per test, by path, and says what it could not read', () => {
    expect(index.rows.map(({ path, part, figures }) => [path, part, figures?.stepsPerRev ?? null])).toEqual([
      ['a.md', 'a', null],
      ['b/flap.md', '=SUM(A1)', 24],
      ['c.md', 'c', null],
      ['d.md', 'd', null],
    ])
    expect(index.warnings.map((warning) => warning.slice(0, 4))).toEqual(['c.md', 'd.md'])
  })

  it('as CSV has no formula in it, as Markdown no extra column', () => {
    const cells = Papa.parse<string[]>(indexCsv(indexLines(index.rows, null), false).trim()).data
    expect(cells.every((row) => row.length === cells[0]?.length)).toBe(true)
    expect(cells.flat().some((cell) => /^[=+@]/.test(cell))).toBe(false)
    const rows = indexMarkdown(indexLines(index.rows, null), false).trim().split('\n')
    expect(new Set(rows.map((row) => row.replaceAll('\\|', '').split('|').length)).size).toBe(1)
  })

  it('finds who needs 0.05 mm on a 1 mm screw: 24 whole steps give 0.0417 mm, half steps of this motor fail', () => {
    expect(indexLines(index.rows, need('needs 0.05 mm on a 1 mm screw'))[0]).toMatchObject({
      answer: 'pass',
      part: '=SUM(A1)',
      by: 'full, 0.0417 mm',
    })
    const answers = indexLines(index.rows, need('0.03 mm on screw 1 mm')).map(({ answer }) => answer)
    expect(answers).toEqual(['not tested', 'not tested', 'not tested', 'fail'])
  })
})

describe('readNeed', () => {
  it('reads a need in either order of words, rotary ones too', () => {
    expect(need('0.05 mm on a 1 mm screw').train.output).toMatchObject({ kind: 'screw', pitchMm: 1 })
    expect(need('0.1 deg on gear 10:1 > rotary').train.reductions).toHaveLength(1)
    expect(need('0.2 mm on a 20 GT2 belt').train.output).toMatchObject({ kind: 'belt', teeth: 20, pitchMm: 2 })
  })

  it.each(['0.05 mm', 'fast on a screw', '0 mm on a 1 mm screw', '0.05 kg on a 1 mm screw'])(
    'refuses "%s"',
    (words) => {
      expect(isUnmeasurable(readNeed(words, 'x'))).toBe(true)
    },
  )
})
