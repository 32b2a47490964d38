import { expect, test } from 'vitest'
import { remedyOnPage } from '#adapters/page/client/app/remedy-on-page'
import { readTrace } from '#core/ingest/read-trace'
import { isUnmeasurable, sentenceOf, unmeasurable } from '#core/quantity/unmeasurable'

const refusal = (text: string) => {
  const read = readTrace(text)
  if (!isUnmeasurable(read)) throw new Error('expected a refusal')
  return read
}

test('what a set-up lacks is asked for by its fields on the page and by its lines and options in the terminal', () => {
  const why = refusal('0\n1\n2\n')
  expect(remedyOnPage(why)).toBe('fill in “Full steps per turn” and “Microsteps per full step” under Motor and rig')
  expect(sentenceOf(why)).toContain('add "# steps-per-rev: …" to the trace or --steps-per-rev to the command and add "# microsteps: …" to the trace')
})

test('a length that is another rig’s own is asked for by the field that the page shows for it', () => {
  const head = '# steps-per-rev: 48\n# microsteps: 4\n'
  expect(remedyOnPage(refusal(`${head}# rig: mirror\n0\n1\n`))).toBe('fill in “D, mirror to wall” under Motor and rig')
  const noRadius = refusal(`${head}# mark-uncertainty: 0.2 mm\n0\n1\n`)
  expect(remedyOnPage(noRadius)).toBe('fill in “R, radius at the marks” under Motor and rig')
  expect(sentenceOf(noRadius)).toContain('or --radius to the command, or give it in deg.')
})

test('options are said to be the command’s', () => {
  expect(remedyOnPage(unmeasurable('no marks', 'photo', 'give the centre with --centre x,y'))).toBe('give the centre with --centre x,y (what begins with -- is an option of the detect command, in a terminal)')
})

test('every other cure stands as it is', () => {
  expect(remedyOnPage(unmeasurable('it is blurred', 'photo', 'take a sharper one'))).toBe('take a sharper one')
})
