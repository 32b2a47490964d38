import { copyFileSync, cpSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { writeEvidence } from '#adapters/terminal/measure/evidence'
import { sealOf, sha256 } from '#adapters/terminal/measure/manifest'
import { runMeasure } from '#adapters/terminal/measure/run-measure'
import { runReplay } from '#adapters/terminal/replay/run-replay'
import { measureWork } from '#core/review/measure-work'
import { reviewedOf } from '#core/review/apply-edit'
import { editedDetection } from '#core/review/edited-detection'
import { traceOfWork } from '#core/review/trace-of-work'
import { emptyWork, type Work } from '#core/review/work'
import { detectInput } from '#adapters/terminal/detect/detect-input'
import { readEvidence } from '#adapters/files/read-evidence'
import { readInput } from '#adapters/files/read-input'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { EvidenceManifest } from '#core/report/replay/evidence-schema'
import type { ReplayDocument } from '#core/report/replay/replay-document'

const folder = mkdtempSync(join(tmpdir(), 'replay-'))
const typed = join(folder, 'typed')
const photographed = join(folder, 'photographed')
const photo = join(folder, 'flap-1.jpg')

beforeAll(async () => {
  copyFileSync('samples/flap-1-plain.jpg', photo)
  // The option wins over the file's own 0.2 deg, so a replay that forgets it cannot come out the same.
  await runMeasure('samples/flap-1-can-stack.csv', { out: typed, markUncertainty: '0.15 deg', seed: '7', train: 'screw M4' })
  await runMeasure(photo, { out: photographed, stepsPerRev: '48', microsteps: '4', paper: 'a4', motor: 'flap <b>1</b>' })
}, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const replay = async (evidence: string, options = {}): Promise<ReplayDocument> => {
  const outcome = await runReplay(evidence, options)
  if (isUnmeasurable(outcome)) throw new Error(outcome.what)
  return outcome.json as ReplayDocument
}

/** A copy to be tampered with. */
const copyOf = (evidence: string): string => {
  const copy = join(mkdtempSync(join(folder, 'copy-')), 'evidence')
  cpSync(evidence, copy, { recursive: true })
  return copy
}

const filesOf = (evidence: string): string[] => readdirSync(evidence, { recursive: true, withFileTypes: true }).filter((each) => each.isFile()).map((each) => join(each.parentPath, each.name).slice(evidence.length + 1))

/** The manifest made to fit what a forger changed. */
const resealed = (evidence: string): void => {
  const path = join(evidence, 'manifest.json')
  const manifest: EvidenceManifest = JSON.parse(readFileSync(path, 'utf8'))
  for (const [file, entry] of Object.entries(manifest.files)) entry.sha256 = sha256(readFileSync(join(evidence, file)))
  writeFileSync(path, JSON.stringify({ ...manifest, seal: sealOf(manifest) }))
}

describe('replay of untouched evidence', () => {
  it('of a typed trace: every value bit for bit, options that won over the file included', async () => {
    const document = await replay(typed)
    expect(document).toMatchObject({ same: true, tolerance: 0, files: [], figures: { differences: [], largestRelative: 0 } })
    expect(document.figures.values).toBeGreaterThan(1000)
    expect(JSON.parse(readFileSync(join(typed, 'manifest.json'), 'utf8')).options).toMatchObject({ setUp: [['mark-uncertainty', '0.15 deg']], seed: 7, train: 'screw M4' })
  })

  it('of a photo: marks found again where it was, figures from marks.csv', async () => {
    const document = await replay(photographed)
    expect(document.photo).toMatchObject({ again: true, comparison: { differences: [] } })
    expect(document).toMatchObject({ same: true, files: [], figures: { differences: [] } })
  })

  it('of a photo that has moved: said, and found again by --photo; the wrong photo is told by its hash', async () => {
    const copy = copyOf(photographed)
    expect(await replay(copy)).toMatchObject({ same: true, photo: { again: false } })
    expect(await replay(copy, { photo })).toMatchObject({ same: true, photo: { again: true } })
    expect((await replay(copy, { photo: 'samples/flap-1-sheet.jpg' })).photo).toMatchObject({ again: false, text: expect.stringContaining('another one') })
  })

  it('of a photo whose marks were changed by hand: from marks.csv, the changes counted', async () => {
    const input = await readInput(photo)
    if (isUnmeasurable(input)) throw new Error(input.what)
    const found = await detectInput(input, {})
    if (isUnmeasurable(found)) throw new Error(found.what)
    const work: Work = { ...emptyWork('flap'), source: 'photo', setUp: { 'steps-per-rev': '48', microsteps: '4' }, photo: { name: input.name, sha256: input.sha256 }, found, applied: 2, edits: [{ at: '2026-01-01T00:00:00Z', kind: 'centre', to: [(found.centrePx?.[0] ?? 0) + 2, found.centrePx?.[1] ?? 0] }, { at: '2026-01-01T00:00:01Z', kind: 'centre', to: [(found.centrePx?.[0] ?? 0) + 1, found.centrePx?.[1] ?? 0] }] }
    const [trace, result, state] = [traceOfWork(work), measureWork(work), reviewedOf(work)]
    if (isUnmeasurable(trace) || isUnmeasurable(result) || !state) throw new Error('not measured')
    const evidence = join(folder, 'edited')
    await writeEvidence(evidence, { result, trace, input, detection: editedDetection(state, work.edits) })
    expect(JSON.parse(readFileSync(join(evidence, 'manifest.json'), 'utf8')).handEdits).toBe(2)
    expect(await replay(evidence, { photo })).toMatchObject({ same: true, figures: { differences: [] } })
  })
})

describe('tampering', () => {
  it('with any one file is named', async () => {
    const copy = copyOf(typed)
    for (const file of filesOf(typed)) {
      const bytes = readFileSync(join(copy, file))
      // A blank behind the document: the smallest change that leaves JSON readable.
      writeFileSync(join(copy, file), file === 'manifest.json' ? bytes.toString().replace('"seed": 7', '"seed": 8') : Buffer.concat([bytes, Buffer.from(' ')]))
      const kept = await readEvidence(copy)
      expect(isUnmeasurable(kept) ? kept : kept.findings).toEqual([{ file, what: 'changed' }])
      writeFileSync(join(copy, file), bytes)
    }
    expect((await replay(copy)).same).toBe(true)
  })

  it('with a figure of result.json is named with its size, also when the manifest was made to fit', async () => {
    const copy = copyOf(typed)
    const path = join(copy, 'result.json')
    const result = JSON.parse(readFileSync(path, 'utf8'))
    const was = result.figures.positionErrorRmsDeg
    writeFileSync(path, JSON.stringify({ ...result, figures: { ...result.figures, positionErrorRmsDeg: was / 2 } }))
    expect((await replay(copy)).files).toEqual([{ file: 'result.json', what: 'changed' }])
    resealed(copy)
    const { same, files, figures, keyFigures } = await replay(copy)
    expect({ same, files }).toEqual({ same: false, files: [] })
    expect(figures.differences).toEqual([{ path: 'figures.positionErrorRmsDeg', kept: was / 2, now: was, by: was - was / 2 }])
    expect(keyFigures.filter(({ outcome }) => outcome !== 'same')).toHaveLength(1)
  })

  it('with the input shows in the figures; with a picture or the report made to fit, in what the figures give', async () => {
    const copy = copyOf(typed)
    const input = join(copy, 'input.csv')
    writeFileSync(input, readFileSync(input, 'utf8').replace('22.2', '23.2'))
    resealed(copy)
    expect((await replay(copy)).figures.differences.length).toBeGreaterThan(5)
    const other = copyOf(typed)
    for (const file of ['report.html', 'figures/trace.png']) writeFileSync(join(other, file), Buffer.concat([readFileSync(join(other, file)), Buffer.from(' ')]))
    resealed(other)
    expect((await replay(other)).files).toEqual(['figures/trace.png', 'report.html'].map((file) => ({ file, what: 'not what the figures give' })))
  })

  it('with marks.csv of a photo shows against the marks on record', async () => {
    const copy = copyOf(photographed)
    const marks = join(copy, 'marks.csv')
    const text = readFileSync(marks, 'utf8')
    const [, first = ''] = /\n([\d.]+),,,1,/.exec(text) ?? []
    writeFileSync(marks, text.replace(first, String(Number(first) + 0.01)))
    resealed(copy)
    expect((await replay(copy)).figures.differences.map(({ path }) => path)).toContain('detection.marks[0].angleDeg')
  })

  it('by adding or taking away a file is named', async () => {
    const copy = copyOf(typed)
    writeFileSync(join(copy, 'figures/extra.svg'), '<svg/>')
    renameSync(join(copy, 'note.md'), join(copy, 'notes.md'))
    expect((await replay(copy)).files).toEqual([
      { file: 'note.md', what: 'missing' },
      { file: 'figures/extra.svg', what: 'added' },
      { file: 'notes.md', what: 'added' },
    ])
  })
})

describe('what cannot be computed again is one sentence', () => {
  it.each([
    ['no folder', (copy: string) => rmSync(copy, { recursive: true })],
    ['no manifest', (copy: string) => rmSync(join(copy, 'manifest.json'))],
    ['a damaged manifest', (copy: string) => writeFileSync(join(copy, 'manifest.json'), '{"schema":')],
    ['no result', (copy: string) => rmSync(join(copy, 'result.json'))],
    ['no input', (copy: string) => rmSync(join(copy, 'input.csv'))],
    ['an input that is no trace', (copy: string) => writeFileSync(join(copy, 'input.csv'), 'position\nNaN\n')],
  ])('%s', async (_, spoil) => {
    const copy = copyOf(typed)
    spoil(copy)
    expect(await runReplay(copy, {})).toMatchObject({ kind: 'unmeasurable' })
  })
})

it('another platform is compared within a stated tolerance', async () => {
  const copy = copyOf(typed)
  const path = join(copy, 'manifest.json')
  const manifest: EvidenceManifest = JSON.parse(readFileSync(path, 'utf8'))
  writeFileSync(path, JSON.stringify({ ...manifest, platform: { ...manifest.platform, arch: 'other' } }))
  resealed(copy)
  const document = await replay(copy)
  expect(document).toMatchObject({ same: true, tolerance: 1e-6 })
})
