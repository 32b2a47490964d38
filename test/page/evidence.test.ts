import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { spawnSync } from 'node:child_process'
import { unzipSync } from 'fflate'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from './browser.ts'
import { dist, type Running, startBench } from './bench-process.ts'
import { settled, toStep } from './places.ts'
import { photoFile } from './simulated-test.ts'
import { desk, openPage } from './watched-page.ts'
import { type WebSpace, webSpace } from './web-space.ts'

let browser: Browser
let bench: Running
let space: WebSpace

beforeAll(async () => {
  bench = await startBench()
  space = await webSpace()
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await bench?.stop()
  space?.server.close()
})

const example = async (page: Page, address: string): Promise<void> => {
  await page.goto(address)
  await page.getByRole('button', { name: 'Look round with an example' }).click()
  await page.waitForSelector('.verdict-words')
}

/** `replay` on a folder: whether every figure and every file comes out as it is kept. */
const replayed = (folder: string): { readonly same: boolean; readonly filesChecked: number; readonly photo: { readonly text: string } | null } =>
  JSON.parse(spawnSync(process.execPath, [join(dist, 'main.js'), 'replay', folder, '--json'], { encoding: 'utf8', maxBuffer: 1e8 }).stdout)

const unpacked = async (archive: string): Promise<string> => {
  const folder = mkdtempSync(join(tmpdir(), 'page-evidence-'))
  for (const [name, content] of Object.entries(unzipSync(readFileSync(archive)))) {
    await mkdir(dirname(join(folder, name)), { recursive: true })
    writeFileSync(join(folder, name), content)
  }
  return folder
}

describe('evidence from the bench', () => {
  it('can be stopped, which leaves nothing behind, and saved after that', async () => {
    const { page, faults } = await openPage(browser, desk)
    await example(page, bench.address)
    expect(await page.locator('.verdict-words').innerText()).toMatch(/full steps/)
    await toStep(page, 'note')
    await page.getByRole('button', { name: 'Save the evidence' }).click()
    await page.getByRole('button', { name: 'Stop' }).click()
    await page.getByRole('button', { name: 'Save the evidence' }).waitFor()
    expect(await page.locator('.notice').innerText()).toMatch(/Stopped/)
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('work')
    const folder = join(bench.project, 'evidence', 'example-simulated')
    // Longer than the writing takes: a process that was not stopped would have written by now.
    await page.waitForTimeout(9000)
    expect(existsSync(folder)).toBe(false)
    await page.getByRole('button', { name: 'Save the evidence' }).click()
    await page.waitForSelector('.written')
    expect(replayed(folder)).toMatchObject({ same: true })
    const [report] = await Promise.all([page.context().waitForEvent('page'), page.getByRole('button', { name: 'Open the report' }).click()])
    const broken: string[] = []
    report.on('console', (said) => said.type() === 'error' && broken.push(said.text()))
    report.on('pageerror', (error) => broken.push(String(error)))
    await report.locator('[data-plot]').first().scrollIntoViewIfNeeded()
    await report.locator('[data-plot] .main-svg').first().waitFor()
    expect(await report.title()).toMatch(/Trust this motor in full steps/)
    // It has no origin: what the bench keeps in the browser, its key among it, cannot be read from there.
    expect(await report.evaluate(() => globalThis.origin)).toBe('null')
    expect(broken).toEqual([])
    expect((await fetch(`http://127.0.0.1:${bench.port}/reports/guessed`)).status).toBe(404)
    expect((await fetch(`http://127.0.0.1:${bench.port}/api/evidence/example-simulated/report`, { method: 'POST' })).status).toBe(401)
    expect(faults).toEqual([])
  }, 240_000)
})

describe('evidence without a server', () => {
  it('comes as one archive where the browser has no folders, and replays to the same figures', async () => {
    const { page, faults } = await openPage(browser, desk)
    await page.addInitScript(() => { Reflect.deleteProperty(globalThis, 'showDirectoryPicker') })
    await example(page, space.address)
    await toStep(page, 'note')
    const [archive] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the evidence' }).click()])
    const folder = await unpacked((await archive.path()) ?? '')
    const evidence = join(folder, 'evidence', 'example-simulated')
    expect(existsSync(join(folder, 'tests', 'example-simulated', 'work.json'))).toBe(true)
    expect(readFileSync(join(evidence, 'report.html'), 'utf8')).toMatch(/^<!doctype html>[\s\S]*Trust this motor in full steps/)
    expect(readFileSync(join(evidence, 'figures', 'trace.png')).subarray(1, 4).toString()).toBe('PNG')
    expect(replayed(evidence)).toMatchObject({ same: true, filesChecked: 18 })
    await page.waitForSelector('.written')
    const [note] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Put it into the note' }).click()])
    expect(readFileSync((await note.path()) ?? '', 'utf8')).toMatch(/<!-- stepwitness begin [\s\S]*evidence\/example-simulated[\s\S]*<!-- stepwitness end /)
    expect(faults).toEqual([])
  }, 240_000)

  // The browser's own private folder stands for one that a person chooses: it is the same kind of handle, and no dialog has to be answered.
  it('goes into the chosen project folder, where a note keeps what is the person’s own', async () => {
    const { page, faults } = await openPage(browser, desk)
    await page.addInitScript(() => Object.assign(globalThis, { showDirectoryPicker: () => navigator.storage.getDirectory() }))
    await page.goto(space.address)
    await page.getByRole('button', { name: 'Put it on the bench' }).click()
    await page.click('text=From a photo')
    await page.getByLabel('Full steps per turn').fill('48')
    await page.getByLabel('Microsteps per full step').fill('4')
    await page.getByLabel('Ink').selectOption('dark')
    await page.setInputFiles('input[type=file]', photoFile)
    await page.waitForSelector('.stage', { timeout: 200_000 })
    await settled(page)
    await page.evaluate(async () => {
      const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('notes', { create: true })
      const file = await (await folder.getFileHandle('parts.md', { create: true })).createWritable()
      await file.write('My own words.\n')
      await file.close()
    })
    await toStep(page, 'note')
    await page.getByRole('button', { name: 'Save the evidence' }).click()
    await page.waitForSelector('.written', { timeout: 200_000 })
    for (let i = 0; i < 2; i++) {
      await page.getByRole('button', { name: 'Put it into the note' }).click()
      await page.waitForFunction(() => document.querySelectorAll('.written').length === 2)
    }
    const kept = await page.evaluate(async () => {
      const root = await navigator.storage.getDirectory()
      const text = async (...path: readonly string[]): Promise<string> => {
        let folder = root
        for (const part of path.slice(0, -1)) folder = await folder.getDirectoryHandle(part)
        return (await (await folder.getFileHandle(path.at(-1) ?? '')).getFile()).text()
      }
      return { manifest: await text('evidence', 'motor-1', 'manifest.json'), work: await text('tests', 'motor-1', 'work.json'), note: await text('notes', 'parts.md') }
    })
    const manifest = JSON.parse(kept.manifest) as { readonly options: { readonly hints: unknown }; readonly files: Readonly<Record<string, unknown>>; readonly input: { readonly at: string } }
    expect(manifest.options.hints).toEqual({ ink: 'dark' })
    expect(Object.keys(manifest.files)).toEqual(expect.arrayContaining(['report.html', 'note.md', 'result.json', 'marks.csv', 'overlay.png', 'figures/trace.png']))
    expect(manifest.input.at).toBe('../../tests/motor-1/photo.jpg')
    expect(kept.note.startsWith('My own words.\n')).toBe(true)
    expect(kept.note.match(/stepwitness begin/g)).toHaveLength(1)
    expect(faults).toEqual([])
  }, 400_000)
})
