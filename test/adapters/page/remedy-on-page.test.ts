import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { inFields, placeOnPage, remedyOnPage } from '#adapters/page/client/app/remedy-on-page'
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

test('options are named as the fields that stand in their place', () => {
  expect(remedyOnPage(unmeasurable('no marks', 'photo', 'give the centre with --centre x,y'))).toBe('give the centre with “Shaft centre”')
  expect(inFields('say which with --paper')).toBe('say which with “Paper”')
  expect(inFields('leave it out with --ignore 10,20,30,40, or say --rig mirror')).toBe('leave it out with “Leave out” 10,20,30,40, or say “What it shows: a strip of marks”')
})

const sources = (folder: string): readonly string[] => readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts')).map((name) => join(folder, name))

// Style sheets and the replay command’s own text hold two hyphens, too; notes and paced files are begun by commands alone.
const neverOnPage = /report\/html\/style|report\/replay\/|files\/durable-file|files\/note-file/

test('no refusal, doubt or warning speaks of an option that has no field on the page', () => {
  const said = [...sources('src/core'), ...sources('src/adapters/photo'), ...sources('src/adapters/files')].filter((path) => !neverOnPage.test(path))
    .flatMap((path) => readFileSync(path, 'utf8').split('\n').filter((line) => /(?<![\w-])--[a-z]/.test(line) && !/^\s*(?:\/?\*|\/\/)/.test(line)).map((line) => ({ path, line })))
  expect(said.length).toBeGreaterThan(25)
  expect(said.filter(({ line }) => /--[a-z]/.test(inFields(line)))).toEqual([])
})

test('a field of the set-up that cannot be read is named as the page names it', () => {
  expect(placeOnPage(unmeasurable('microsteps must be a whole number', 'set-up, microsteps', 'correct microsteps'))).toBe('Motor and rig, “Microsteps per full step”')
})

test('every other cure stands as it is', () => {
  expect(remedyOnPage(unmeasurable('it is blurred', 'photo', 'take a sharper one'))).toBe('take a sharper one')
})
