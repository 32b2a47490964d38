import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Point } from '#core/detect/raster'
import { openBrowser } from './browser.ts'
import { type Running, startBench } from './bench-process.ts'
import { drag, onScreen, settled } from './places.ts'
import { flapWork, layDown, savedWork } from './simulated-test.ts'
import { desk, openPage, phone, type Watched } from './watched-page.ts'

const axe = readFileSync('node_modules/axe-core/axe.min.js', 'utf8')

let browser: Browser
let bench: Running
const whole = flapWork()
const { centrePx, cornersPx } = whole.found as { centrePx: Point; cornersPx: readonly Point[] }

beforeAll(async () => {
  bench = await startBench()
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await bench?.stop()
})

const violations = async (page: Page): Promise<readonly string[]> => {
  await page.addScriptTag({ content: axe })
  return page.evaluate(async () => {
    const { violations } = await (globalThis as unknown as { axe: { run: (root: Document) => Promise<{ violations: { id: string; impact: string }[] }> } }).axe.run(document)
    return violations.filter(({ impact }) => impact !== 'moderate' && impact !== 'minor').map(({ id }) => id)
  })
}

/** Where a test may leave what it saw, for a person to look at: STEPWITNESS_PICTURES names the folder. */
const look = async (page: Page, name: string): Promise<void> => {
  const folder = process.env['STEPWITNESS_PICTURES']
  if (!folder) return
  mkdirSync(folder, { recursive: true })
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true })
}

/** A test whose photo is kept and of which nothing was read. */
const unread = (id: string): void => layDown(bench.project, id, { ...whole, found: null })

const opened = async (id: string, options: BrowserContextOptions, theme = 'light'): Promise<Watched> => {
  const watched = await openPage(browser, { ...options, bypassCSP: true })
  await watched.page.addInitScript(([id, theme]) => { localStorage.setItem('bench:last', id ?? ''); localStorage.setItem('bench:theme', theme ?? '') }, [id, theme])
  await watched.page.goto(bench.address)
  await watched.page.waitForSelector('.stage')
  return watched
}

const place = (page: Page, at: Point): Promise<Point> => onScreen(page, whole, at)

describe('a photo of which nothing was read', () => {
  it('is shown, takes where things are by mouse, and keeps that with the marks it then gives', async () => {
    unread('by-mouse')
    const { page, faults } = await opened('by-mouse', desk)
    const [cx, cy] = centrePx
    const on = (name: string) => page.getByRole('button', { name: `${name}: show it on the photo` })
    await on('Shaft centre').click()
    await page.mouse.click(...(await place(page, [cx, cy])))
    await on('Ring of marks').click()
    await drag(page, await place(page, [cx + 300, cy]), await place(page, [cx + 700, cy]))
    await on('Corners of the paper').click()
    for (const corner of cornersPx) await page.mouse.click(...(await place(page, corner)))
    await look(page, 'telling-desk')
    expect(await violations(page)).toEqual([])
    await page.getByRole('button', { name: 'Look for marks again' }).click()
    await settled(page)
    await expect.poll(() => savedWork(bench.project, 'by-mouse').found?.marks.length ?? 0, { timeout: 60_000 }).toBeGreaterThan(40)
    const { hints, found } = savedWork(bench.project, 'by-mouse')
    // A click ends on a whole screen px, some four of the photo.
    expect(Math.hypot((hints?.centrePx?.[0] ?? 0) - cx, (hints?.centrePx?.[1] ?? 0) - cy)).toBeLessThan(8)
    expect(Math.abs((hints?.radiusRangePx?.[0] ?? 0) - 300)).toBeLessThan(12)
    expect(Math.abs((hints?.radiusRangePx?.[1] ?? 0) - 700)).toBeLessThan(12)
    expect(hints?.cornersPx?.every(([x, y], i) => Math.hypot(x - (cornersPx[i]?.[0] ?? 0), y - (cornersPx[i]?.[1] ?? 0)) < 8)).toBe(true)
    expect(found?.rectifiedBy).toBe('corners')
    expect(faults).toEqual([])
  })

  it('says by its fields what would cure a refusal, and is cured by typing alone', async () => {
    unread('by-keys')
    const { page, faults } = await opened('by-keys', desk, 'dark')
    await page.getByLabel('Shaft centre', { exact: true }).fill('400, 300')
    await page.getByLabel('Marks, if counted').fill('12')
    await page.getByRole('button', { name: 'Look for marks again' }).click()
    const alert = page.getByRole('alert').filter({ hasText: 'Photo' })
    await alert.waitFor()
    expect(await alert.innerText()).toContain('“Shaft centre”')
    expect(await page.locator('body').innerText()).not.toMatch(/--[a-z]/)
    await look(page, 'refused-desk-dark')
    expect(await violations(page)).toEqual([])
    // What was told is there again after a reload, though nothing was read by it.
    await page.waitForSelector('.save-saved')
    await page.reload()
    await page.waitForSelector('.stage')
    expect(await page.getByLabel('Shaft centre', { exact: true }).inputValue()).toBe('400, 300')
    const [cx, cy] = centrePx.map(Math.round)
    await page.getByLabel('Shaft centre', { exact: true }).fill(`${cx}, ${cy}`)
    await page.getByLabel('Ring of marks', { exact: true }).fill('200, 800')
    await page.getByLabel('Marks, if counted').fill('')
    await page.getByLabel(/^Paper/).selectOption('other')
    await page.getByLabel('Width × height of the paper, mm').fill('210 × 297')
    await page.getByRole('button', { name: 'Look for marks again' }).click()
    await settled(page)
    await expect.poll(() => savedWork(bench.project, 'by-keys').found?.marks.length ?? 0, { timeout: 60_000 }).toBeGreaterThan(40)
    expect(savedWork(bench.project, 'by-keys').hints).toEqual({ centrePx: [cx, cy], radiusRangePx: [200, 800], paperMm: [210, 297] })
    await page.waitForSelector('.save-saved')
    await page.getByRole('button', { name: 'Another photo, or look again…' }).click()
    await look(page, 'again-desk-dark')
    await page.getByRole('button', { name: 'Back to the marks' }).click()
    await settled(page)
    expect(faults).toEqual([])
  })

  it('is kept without the marks of the photo before it, which were none of its own', async () => {
    layDown(bench.project, 'another', whole)
    const { page, faults } = await opened('another', desk)
    await page.getByRole('button', { name: 'Another photo, or look again…' }).click()
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('text=Choose a photo')])
    const blank = await sharp({ create: { width: 1200, height: 900, channels: 3, background: '#c8c8c8' } }).png().toBuffer()
    await chooser.setFiles({ name: 'blank.png', mimeType: 'image/png', buffer: blank })
    await page.getByRole('alert').filter({ hasText: 'hoto' }).waitFor()
    await page.waitForSelector('.save-saved')
    const { found, photo } = savedWork(bench.project, 'another')
    expect(found).toBeNull()
    expect(photo).toEqual({ name: 'blank.png', sha256: createHash('sha256').update(blank).digest('hex') })
    expect(faults).toEqual([])
  })

  it('takes the shaft by a tap on a phone', async () => {
    for (const theme of ['dark', 'light']) {
      unread(`by-touch-${theme}`)
      const { page, faults } = await opened(`by-touch-${theme}`, phone, theme)
      await page.getByRole('button', { name: 'Shaft centre: show it on the photo' }).tap()
      await page.touchscreen.tap(...(await place(page, centrePx)))
      const typed = (await page.getByLabel('Shaft centre', { exact: true }).inputValue()).split(', ').map(Number)
      expect(Math.hypot((typed[0] ?? 0) - centrePx[0], (typed[1] ?? 0) - centrePx[1])).toBeLessThan(20)
      await look(page, `telling-phone-${theme}`)
      expect(await violations(page)).toEqual([])
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
      expect(faults).toEqual([])
    }
  })
})
