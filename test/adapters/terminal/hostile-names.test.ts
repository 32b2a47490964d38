import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { runCompare } from '#adapters/terminal/compare/run-compare'
import { runMeasure } from '#adapters/terminal/measure/run-measure'
import { runNote } from '#adapters/terminal/note/run-note'
import { runReplay } from '#adapters/terminal/replay/run-replay'
import { plainLines } from '#core/quantity/one-line'
import { sentenceOf, isUnmeasurable } from '#core/quantity/unmeasurable'
import { Command } from 'commander'

const folder = mkdtempSync(join(tmpdir(), 'hostile-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Each name with what of it must never come out as it is. */
const names: Readonly<Record<string, string>> = {
  'HTML': '<img src=x onerror=alert(1)><script>alert(2)</script>"\' onload="alert(3)',
  'an end of comment and script': '--><!-- stepwitness end x --></script></style><b>',
  'Markdown': '[a](javascript:alert(1)) ![b](http://x.invalid/b.png) **c** `d` | e <http://x.invalid>',
  'a formula': '=HYPERLINK("http://x.invalid";"a")',
  'another formula': '@SUM(1+1)*cmd|\' /C calc\'!A0',
  'escape codes': 'a\u001b[31mred\u001b]0;title\u0007\u009b2Jb\u001b]8;;http://x.invalid\u001b\\link',
  'bidirectional tricks': 'motor\u202egnp.exe\u2066x\u2069\u200f\u061c',
  'path parts': '../../../etc/passwd\u0000.csv',
  'zero-width and tag characters': 'fl\u200bap\u2060\u{e0041}\ufeff',
}

/** Control and direction-changing characters (Unicode: Cc, Bidi_Control), tabs and line ends apart. */
const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u

const rows = Array.from({ length: 49 }, (_, k) => `${(3.75 * k + 0.3 * Math.sin(k)).toFixed(2)},${k}`)

/** A trace with a hostile name and remark; control characters come by option alone, since a text file that holds them is refused. */
const traceOf = (name: string): string => {
  const text = name.replace(/[\u0000-\u001f\u007f]/g, '')
  const cell = `"${text.replaceAll('"', '""')}"`
  return `# motor: ${text}\n# steps-per-rev: 24\n# microsteps: 4\n# mark-uncertainty: 0.05 deg\nposition,command,note\n${rows.map((row) => `${row},${cell}`).join('\n')}\n`
}

const textsIn = (evidence: string): readonly (readonly [string, string])[] =>
  readdirSync(evidence, { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile() && !/^input|\.png$/.test(each.name))
    .map((each) => [each.name, readFileSync(join(each.parentPath, each.name), 'utf8')] as const)

/** What stands in the report outside the plotting library, whose own code is no concern here. */
const ownPart = (html: string): string => html.replace(/<script[^>]*>[\s\S]{100000,}?<\/script>/g, '')

const textOf = (outcome: unknown): string => (isUnmeasurable(outcome) ? sentenceOf(outcome) : (outcome as { text: string }).text)

describe('names and notes from outside are shown as text', () => {
  for (const [what, name] of Object.entries(names))
    it(what, async () => {
      const slot = mkdtempSync(join(folder, 'name-'))
      // A file name holds anything but a slash and a zero byte.
      const file = join(slot, `${name.replace(/[/\u0000]/g, '_').slice(0, 60)}.csv`)
      const evidence = join(slot, 'evidence')
      writeFileSync(file, traceOf(name))
      const said = textOf(await runMeasure(file, { out: evidence, motor: name }))
      const note = join(slot, 'parts.md')
      writeFileSync(note, '# mine\n')
      const compared = await runCompare([evidence, evidence], {}, new Command())
      // As `show` prints them: it is the last to see every text.
      const shown = [said, textOf(compared), textOf(await runNote([note, evidence], {}, new Command())), textOf(await runReplay(evidence, {}))].map(plainLines)
      for (const text of shown) expect(text).not.toMatch(control)
      for (const [part, text] of [...textsIn(evidence), ['parts note', readFileSync(note, 'utf8')] as const]) {
        const own = part === 'report.html' ? ownPart(text) : text.replace(/<!--(?:(?!-->).)*-->/g, '')
        expect({ part, found: control.exec(own)?.index ?? null }).toEqual({ part, found: null })
        if (/\.(html|md|svg)$|note/.test(part)) expect({ part, found: /<img src=x|<script>alert|" onload="|<b>|<http:/.exec(own)?.[0] ?? null }).toEqual({ part, found: null })
        if (/\.md$|note/.test(part)) expect({ part, found: /\[a\]\(java|\]\(http:\/\/x/.exec(own)?.[0] ?? null }).toEqual({ part, found: null })
      }
      const marks = readFileSync(join(evidence, 'marks.csv'), 'utf8')
      expect(marks.split('\n').slice(5).filter((line) => /,"?[=@+]/.test(line))).toEqual([])
      const markers = readFileSync(note, 'utf8').match(/<!-- stepwitness (?:begin|end)/g)
      expect(markers).toHaveLength(2)
      expect(readdirSync(slot).toSorted()).toEqual([file.slice(slot.length + 1), 'evidence', 'parts.md'].toSorted())
    })

  it('in messages that name a file or repeat what stands in it', async () => {
    const file = join(folder, 'a\u001b[31m\u202eb.csv')
    writeFileSync(file, '# microsteps: \u001b[2J\u202e\n1\n2\n')
    for (const outcome of [await runMeasure(file, { out: join(folder, 'x') }), await runMeasure('none\u001b[31m.csv', {}), await runReplay('none\u001b[31m', {})])
      expect(textOf(outcome)).not.toMatch(control)
  })
})
