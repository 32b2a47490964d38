import { join } from 'node:path'
import { mkdirSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Point } from '#core/detect/raster'
import { openBrowser } from './browser.ts'
import { type Running, startBench } from './bench-process.ts'
import { drag, middle, onScreen, settled } from './places.ts'
import { flapWork, layDown, savedWork } from './simulated-test.ts'
import { desk, openPage } from './watched-page.ts'

let browser: Browser
let bench: Running

beforeAll(async () => {
  bench = await startBench()
  layDown(bench.project, 'flap', flapWork())
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await bench?.stop()
})

/** Where a test may leave what it saw, for a person to look at: STEPWITNESS_PICTURES names the folder. */
const picture = (name: string): string | undefined => {
  const folder = process.env['STEPWITNESS_PICTURES']
  if (folder) mkdirSync(folder, { recursive: true })
  return folder && join(folder, name)
}

describe('telling about a photo by drawing on it', () => {
  it('leaves a drawn box out, keeps it with the test, and forgets it again', async () => {
    const { page, faults } = await openPage(browser, desk)
    await page.goto(bench.address)
    await settled(page)
    const work = flapWork()
    const [x, y] = middle(work.found?.marks[10] as never)
    await page.getByRole('button', { name: 'Leave out…' }).click()
    const corner = async (by: number): Promise<Point> => onScreen(page, work, [x + by, y + by])
    await drag(page, await corner(-40), await corner(40))
    const path = picture('leave-out.png')
    if (path) await page.screenshot({ path })
    await page.getByRole('button', { name: 'Look again without it' }).click()
    await page.getByRole('region', { name: 'Leave a region out' }).waitFor({ state: 'detached' })
    await expect.poll(() => savedWork(bench.project, 'flap').hints?.ignorePx?.length, { timeout: 60_000 }).toBe(1)
    const kept = savedWork(bench.project, 'flap')
    const [box] = kept.hints?.ignorePx ?? []
    // A drag ends on whole screen px, some four of the photo.
    expect(Math.abs((box?.x ?? 0) - (x - 40))).toBeLessThan(8)
    expect(Math.abs((box?.width ?? 0) - 80)).toBeLessThan(8)
    const inside = kept.found?.marks.filter((mark) => Math.hypot(middle(mark)[0] - x, middle(mark)[1] - y) < 30)
    expect(inside).toEqual([])
    await page.getByRole('button', { name: 'Leave out…' }).click()
    await page.getByRole('button', { name: 'Forget what was drawn' }).click()
    await page.getByRole('region', { name: 'Leave a region out' }).waitFor({ state: 'detached' })
    await expect.poll(() => savedWork(bench.project, 'flap').hints?.ignorePx, { timeout: 60_000 }).toBeUndefined()
    expect(savedWork(bench.project, 'flap').found?.marks.length).toBeGreaterThan(kept.found?.marks.length ?? 0)
    expect(faults).toEqual([])
  })

  it('takes a strip’s scale from two places, typed or drawn, and how far apart they are', async () => {
    const { page, faults } = await openPage(browser, desk)
    await page.goto(bench.address)
    await settled(page)
    await page.getByRole('button', { name: 'Another photo, or look again…' }).click()
    await page.getByLabel('What it shows').selectOption('mirror')
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('text=Choose a photo')])
    await chooser.setFiles('samples/pump-1-strip.jpg')
    await page.getByRole('button', { name: 'Scale…' }).click()
    await expect.poll(() => savedWork(bench.project, 'flap').found?.rig, { timeout: 60_000 }).toBe('mirror')
    const marks = savedWork(bench.project, 'flap').found?.marks ?? []
    const [first, last] = [middle(marks[0] as never), middle(marks.at(-1) as never)]
    await page.getByLabel('Two places', { exact: true }).fill(`${Math.round(first[0])}, ${Math.round(first[1])}; ${Math.round(last[0])}, ${Math.round(last[1])}`)
    await page.getByLabel('How far apart they are').fill('100')
    const path = picture('scale.png')
    if (path) await page.screenshot({ path })
    await page.getByRole('button', { name: 'Look again with it' }).click()
    await page.getByRole('region', { name: 'Two places a known distance apart' }).waitFor({ state: 'detached' })
    await expect.poll(() => savedWork(bench.project, 'flap').hints?.scalePx?.mm, { timeout: 60_000 }).toBe(100)
    const { found } = savedWork(bench.project, 'flap')
    const span = (found?.marks.at(-1)?.positionMm ?? 0) - (found?.marks[0]?.positionMm ?? 0)
    // The places were read off to whole px, a few of them to the millimetre.
    expect(Math.abs(span - 100)).toBeLessThan(1)
    expect(faults).toEqual([])
  })
})
