import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { noteBlock } from '#core/report/note/note-block'
import { beginMarker, blocksIn, endMarker, markerKey } from '#core/report/note/note-markers'
import { noteTemplate } from '#core/report/note/note-template'
import { placeBlock } from '#core/report/note/place-block'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { frontMatterOf } from '#core/report/note/note-index'
import { figuresInBlock, noteFiguresOf } from '#core/report/note/note-figures'
import { sampleResult } from './sample-result.ts'

const placed = (text: string, key: string, lines: readonly string[]): string => {
  const outcome = placeBlock(text, key, lines)
  if (isUnmeasurable(outcome)) throw new Error(outcome.what)
  return outcome
}

const anyNote = fc
  .array(
    fc.oneof(
      fc.string({ unit: 'grapheme', maxLength: 30 }),
      fc.constantFrom('# Motor', '---', '<!-- mine -->', '```', '\t'),
    ),
    { maxLength: 12 },
  )
  .chain((lines) =>
    fc
      .tuple(fc.constantFrom('\n', '\r\n', '\r'), fc.constantFrom('', '\uFEFF'), fc.boolean())
      .map(([end, mark, last]) => `${mark}${lines.join(end)}${last ? end : ''}`),
  )
  .filter((text) => !/stepwitness/i.test(text))

describe('placeBlock keeps everything outside its own lines', () => {
  it('when it is put in, refreshed, and put in beside others: any text, line end, byte order mark', () => {
    fc.assert(
      fc.property(anyNote, anyNote, (before, after) => {
        const once = placed(before, 'a', ['one', 'two'])
        expect(once.startsWith(before)).toBe(true)
        const around = `${once}${after}`
        const again = placed(around, 'a', ['three'])
        const place = blocksIn(again)
        if (isUnmeasurable(place) || !place[0]) throw new Error('lost')
        expect(again.slice(0, place[0].start)).toBe(once.slice(0, once.indexOf('<!-- stepwitness begin')))
        expect(again.endsWith(around.slice(around.indexOf(endMarker('a')) + endMarker('a').length))).toBe(true)
        expect(placed(again, 'a', ['three'])).toBe(again)
        const both = placed(again, 'b', ['four'])
        expect(both.startsWith(again)).toBe(true)
      }),
      { numRuns: 300, seed: 3 },
    )
  })

  it('takes the note’s own line end', () => {
    expect(placed('# Motor\r\n', 'a', ['x', 'y'])).toBe(
      `# Motor\r\n\r\n${beginMarker('a')}\r\nx\r\ny\r\n${endMarker('a')}\r\n`,
    )
    expect(placed('', 'a', [])).toBe(`${beginMarker('a')}\n${endMarker('a')}\n`)
  })

  it('refreshes the right one of several blocks', () => {
    const both = placed(placed('top\n', 'a', ['1']), 'b', ['2'])
    expect(placed(both, 'a', ['3'])).toBe(both.replace('\n1\n', '\n3\n'))
  })
})

describe('broken or doubled markers change nothing and name the line', () => {
  const [begin, end] = [beginMarker('a'), endMarker('a')]
  it.each([
    ['begin alone', `x\n${begin}\ny\n`, 2],
    ['end alone', `x\n\n${end}\n`, 3],
    ['end before begin', `${end}\n${begin}\n`, 1],
    ['two pairs', `${begin}\n${end}\n${begin}\n${end}\n`, 3],
    ['begin twice', `${begin}\n${begin}\n${end}\n`, 2],
    ['nested', `${begin}\n${beginMarker('b')}\n${endMarker('b')}\n${end}\n`, 2],
    ['crossed', `${begin}\n${beginMarker('b')}\n${end}\n${endMarker('b')}\n`, 2],
    ['cut off', `x\n${begin.slice(0, 30)}\n${end}\n`, 2],
    ['other case', `${begin.toUpperCase()}\n${end}\n`, 1],
    ['misspelt', `<!-- stepwitness bgin a -->\n${end}\n`, 1],
    ['of another test', `${beginMarker('z')}\n`, 1],
  ])('%s', (_, text, line) => {
    const outcome = placeBlock(text, 'a', ['new'])
    expect(isUnmeasurable(outcome) && outcome.where).toBe(`line ${line}`)
  })
})

const hostile =
  '--> <script>alert(1)</script> | =1+1 `x` **b** [l](http://e.org) www.e.org @all \u001b[31m\u202e\n# h -- >'

describe('the block of a result', () => {
  it('shows a hostile name as text: no tag, no link, no escape code, one line', () => {
    const block = noteBlock(sampleResult(hostile), { evidence: '../a|b<c>/result.json' })
    expect(block.every((line) => !/[\n\r\u001b\u202e]/.test(line))).toBe(true)
    const words = block.filter((line) => !line.startsWith('<!--')).join('\n')
    expect(words).not.toMatch(/<(?!br)/)
    expect(words).not.toMatch(/https?:\/\/|[^\\]`|@|www\./)
    const text = placed('note\n', markerKey(hostile), block)
    const places = blocksIn(text)
    expect(isUnmeasurable(places) ? places : places.length).toBe(1)
    expect(placed(text, markerKey(hostile), block)).toBe(text)
    expect([...text.matchAll(/-->/g)]).toHaveLength(3)
  })

  it('gives back its figures for the index', () => {
    const result = sampleResult('flap --> "motor" \\u002d')
    expect(figuresInBlock(noteBlock(result).join('\n'))).toEqual(noteFiguresOf(result))
    expect(noteFiguresOf(result).effective.value).toBeCloseTo(1.3151918984, 2)
  })

  it('is the same for the same result', () => {
    expect(noteBlock(sampleResult('x'))).toEqual(noteBlock(sampleResult('x')))
  })

  it('keeps different names apart in markers', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (name) => {
        expect(beginMarker(markerKey(name))).toMatch(/^<!-- stepwitness begin [A-Za-z0-9._-]+ \([^<>]*\) -->$/)
        expect(markerKey(name)).not.toContain('--')
      }),
      { seed: 4 },
    )
  })
})

describe('the template', () => {
  it('has front matter that YAML reads, a place for evidence, and every caution', () => {
    const text = noteTemplate({ name: 'pump: "lab" #2 --- [x]', stepsPerRev: 200 })
    expect(frontMatterOf(text)).toMatchObject({
      part: 'pump: "lab" #2 --- [x]',
      'steps-per-rev': 200,
      'found-in': null,
    })
    expect(text).toContain('## Test evidence')
    expect(text.match(/^- \*\*/gm)).toHaveLength(6)
    expect(isUnmeasurable(placeBlock(text, 'a', ['x']))).toBe(false)
  })
})
