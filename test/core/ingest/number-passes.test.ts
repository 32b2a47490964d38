import { describe, expect, it } from 'vitest'
import { numberPasses } from '#core/ingest/number-passes'
import type { TraceMark } from '#core/ingest/trace'

const marks = (commands: readonly number[]): TraceMark[] => commands.map((command, i) => ({ line: i + 1, position: command, command, tally: null, pass: 1, direction: null, note: '', u: null, multiplicity: 1 }))
const told = (commands: readonly number[]): string[] => numberPasses(marks(commands)).map(({ command, pass, direction }) => `${pass}${direction === null ? '' : direction === 1 ? '+' : '-'}${command}`)

describe('passes told by the command column alone', () => {
  it('a command again and again', () => expect(told([0, 0, 1, 1, 2, 2, 3, 3])).toEqual(['10', '20', '11', '21', '12', '22', '13', '23']))
  it('again from the start', () => expect(told([0, 1, 2, 3, 0, 1, 2, 3])).toEqual(['1+0', '1+1', '1+2', '1+3', '2+0', '2+1', '2+2', '2+3']))
  it('there and back with one mark at the turn, which serves both ways', () => expect(told([0, 1, 2, 3, 4, 3, 2, 1, 0])).toEqual(['1+0', '1+1', '1+2', '1+3', '1+4', '1-4', '1-3', '1-2', '1-1', '1-0']))
  it('there and back with two marks at the turn', () => expect(told([0, 1, 2, 3, 3, 2, 1, 0])).toEqual(['1+0', '1+1', '1+2', '1+3', '1-3', '1-2', '1-1', '1-0']))
  it('one command twice is a slip of the pen, left to be asked about', () => expect(told([0, 1, 2, 2, 3, 4, 5, 6])).toEqual(['10', '11', '12', '12', '13', '14', '15', '16']))
})

describe('passes told with one of pass and direction given', () => {
  const rows = (text: string): TraceMark[] => text.split(' ').flatMap((row) => marks([Number(row.slice(2))]).map((mark) => ({ ...mark, pass: Number(row[0]), direction: row[1] === '+' ? 1 : row[1] === '-' ? -1 : null })))
  const read = (text: string): string => numberPasses(rows(text)).map(({ command, pass, direction }) => `${pass}${direction === null ? '?' : direction === 1 ? '+' : '-'}${command}`).join(' ')
  it('direction alone: every return to + begins another pass', () => expect(read('1+0 1+1 1+2 1-2 1-1 1-0 1+0 1+1 1+2 1-2 1-1 1-0')).toBe('1+0 1+1 1+2 1-2 1-1 1-0 2+0 2+1 2+2 2-2 2-1 2-0'))
  it('both ways side by side are one pass', () => {
    const side = '1+0 1-0 1+1 1-1 1+2 1-2 1+3 1-3'
    expect(read(side)).toBe(side)
  })
  it('pass alone: commands that count down again are its return', () => expect(read('1?0 1?1 1?2 1?2 1?1 1?0 2?0 2?1 2?2 2?2 2?1 2?0')).toBe('1+0 1+1 1+2 1-2 1-1 1-0 2+0 2+1 2+2 2-2 2-1 2-0'))
  it('passes numbered one each way: those that count down are returns', () => expect(read('1?0 1?1 1?2 2?2 2?1 2?0 3?0 3?1 3?2')).toBe('1+0 1+1 1+2 2-2 2-1 2-0 3+0 3+1 3+2'))
  it('passes that all count down may as well have been typed from below: nothing is said', () => expect(read('1?2 1?1 1?0 2?2 2?1 2?0')).toBe('1?2 1?1 1?0 2?2 2?1 2?0'))
  it('what pass and direction say stays', () => {
    const said = '1+0 1+1 1+2 2+0 2+1 2+2'
    expect(read(said)).toBe(said)
  })
})
