import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from './browser.ts'
import { desk, openPage } from './watched-page.ts'
import { type Running, startBench } from './bench-process.ts'
import { drag, headline, middle, nearer, onScreen, saved, settled, turned } from './places.ts'
import { flapWork, layDown, oneWrongWork, savedWork } from './simulated-test.ts'

let browser: Browser
let bench: Running

beforeAll(async () => {
  bench = await startBench()
  layDown(bench.project, 'flap', flapWork())
  layDown(bench.project, 'one-wrong', oneWrongWork())
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await bench?.stop()
})

const opened = async (test: string): Promise<Page> => {
  const { page } = await openPage(browser, desk)
  // The page opens the test it had last; choosing another would leave the first one's figures standing for a moment.
  await page.addInitScript((test) => localStorage.setItem('bench:last', test), test)
  await page.goto(bench.address)
  await settled(page)
  return page
}

describe('checking the marks', () => {
  it('turns the verdict when the one wrong mark is dragged where it belongs', async () => {
    const page = await opened('one-wrong')
    const work = oneWrongWork()
    expect(await headline(page)).not.toMatch(/1\/4 steps/)
    const wrong = work.found?.marks.find(({ angleDeg }) => Math.abs((angleDeg ?? 0) - (40 * 1.875 + 1.3)) < 0.01)
    const at = middle(wrong as never)
    const centre = work.found?.centrePx as never
    const from = await onScreen(page, work, at)
    const to = await onScreen(page, work, turned(at, centre, -1.3))
    const times = await nearer(page, from)
    await drag(page, from, [from[0] + (to[0] - from[0]) * times, from[1] + (to[1] - from[1]) * times])
    await page.waitForFunction(() => /1\/4 steps/.test(document.querySelector('.live .headline')?.textContent ?? ''))
    await saved(page)
    const kept = savedWork(bench.project, 'one-wrong')
    expect(kept.edits.map(({ kind }) => kind)).toEqual(['move'])
    expect(kept.found).toEqual(work.found)
  })

  it('comes back to exactly the start by undo, and to exactly the end by redo', async () => {
    const page = await opened('flap')
    const figures = (): Promise<readonly string[]> => page.locator('.live .figure dd').allInnerTexts()
    const before = await figures()
    await page.focus('.stage')
    for (const key of ['n', 'ArrowLeft', 'Shift+ArrowLeft', 'n', 's', 'n', 'Delete', 'a', 'ArrowUp', 'd', 'Enter', 'h', 'ArrowRight', 'h', 'ArrowDown']) {
      await page.keyboard.press(key)
      await page.waitForTimeout(30)
    }
    await saved(page)
    const changed = savedWork(bench.project, 'flap')
    expect(new Set(changed.edits.map(({ kind }) => kind))).toEqual(new Set(['move', 'split', 'delete', 'add', 'accept', 'centre', 'corners']))
    await settled(page)
    const after = await page.locator('.live').innerText()
    for (let i = 0; i < changed.applied; i++) await page.keyboard.press('Control+z')
    await settled(page)
    await page.waitForFunction((text) => [...document.querySelectorAll('.live .figure dd')].map((each) => (each as HTMLElement).innerText).join() === text, before.join())
    expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true)
    for (let i = 0; i < changed.applied; i++) await page.keyboard.press('Control+y')
    await settled(page)
    await page.waitForFunction((text) => (document.querySelector('.live') as HTMLElement).innerText === text, after)
    await saved(page)
    expect(savedWork(bench.project, 'flap').applied).toBe(changed.applied)
  })

  it('loses nothing when the server is killed in the middle and started again', async () => {
    const page = await opened('flap')
    await page.focus('.stage')
    await bench.stop('SIGKILL')
    const count = savedWork(bench.project, 'flap').edits.length
    for (const key of ['n', 'Delete', 'n', 'Shift+ArrowLeft']) await page.keyboard.press(key)
    await page.waitForSelector('.save-waiting')
    bench = await startBench(bench.project, bench.port)
    await saved(page)
    expect(savedWork(bench.project, 'flap').edits.length).toBe(count + 2)
    await page.reload()
    await settled(page)
    expect(savedWork(bench.project, 'flap').edits.length).toBe(count + 2)
  })

  it('takes up after a crash of the page what the server never got', async () => {
    const page = await opened('flap')
    await page.focus('.stage')
    await bench.stop('SIGKILL')
    const count = savedWork(bench.project, 'flap').edits.length
    await page.keyboard.press('n')
    await page.keyboard.press('Delete')
    await page.waitForSelector('.save-waiting')
    const context = page.context()
    await page.close({ runBeforeUnload: false })
    bench = await startBench(bench.project, bench.port)
    const again = await context.newPage()
    await again.goto(bench.address)
    await saved(again)
    await expect.poll(() => savedWork(bench.project, 'flap').edits.length).toBe(count + 1)
  })

  it('asks when two windows changed the same test, and keeps what is chosen', async () => {
    const [one, two] = [await opened('flap'), await opened('flap')]
    const press = async (page: Page, keys: readonly string[]): Promise<void> => {
      await page.focus('.stage')
      for (const key of keys) await page.keyboard.press(key)
    }
    await press(one, ['n', 'Delete'])
    await saved(one)
    const first = savedWork(bench.project, 'flap')
    await press(two, ['n', 'n', 'Shift+ArrowLeft'])
    await two.waitForSelector('dialog.box')
    expect(savedWork(bench.project, 'flap')).toEqual(first)
    await two.getByRole('button', { name: /Take the other one/ }).click()
    await saved(two)
    expect(savedWork(bench.project, 'flap')).toEqual(first)
  })

  it('says so when the figures cannot be worked out, and works them out at the next change', async () => {
    const { page } = await openPage(browser, desk)
    await page.addInitScript(() => localStorage.setItem('bench:last', 'one-wrong'))
    await page.route(/engine-worker/, (route) => route.abort())
    await page.goto(bench.address)
    await page.getByText('could not work out the figures').waitFor()
    await page.unroute(/engine-worker/)
    await page.focus('.stage')
    await page.keyboard.press('n')
    await page.keyboard.press('Delete')
    await settled(page)
  })
})
