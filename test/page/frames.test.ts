import { readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from './browser.ts'
import { dist, type Running, startBench } from './bench-process.ts'
import { middle, onScreen, settled, turned } from './places.ts'
import { layDown, manyWork } from './simulated-test.ts'
import { desk, openPage } from './watched-page.ts'

let browser: Browser
let bench: Running

beforeAll(async () => {
  bench = await startBench()
  layDown(bench.project, 'many', manyWork())
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await bench?.stop()
})

/** Scripts record how long each of the page's frames took of the main thread, from first task to last. */
const busyFrames = `
  globalThis.frames = []
  const watch = () => { const begun = performance.now(); const channel = new MessageChannel(); channel.port1.onmessage = () => globalThis.frames.push([begun, performance.now() - begun]); channel.port2.postMessage(0); requestAnimationFrame(watch) }
  requestAnimationFrame(watch)`

const quantile = (values: readonly number[], q: number): number => values.toSorted((a, b) => a - b)[Math.floor(q * (values.length - 1))] ?? Number.NaN

describe('a trace of 3,201 commands', () => {
  // Frames depend on what else the machine does; a second and third try keep a busy moment from telling.
  it('can be worked on within 1.5 s of opening the page, and stays at 50 frames a second or more while a mark is dragged', { retry: 2 }, async () => {
    const opened = async (): Promise<{ readonly page: Page; readonly usable: number }> => {
      const { page } = await openPage(browser, desk)
      await page.goto(bench.address)
      await page.waitForSelector('.stage canvas')
      return { page, usable: await page.evaluate(() => performance.now()) }
    }
    // The best of three: other tests may have the second processor.
    const tries = [await opened(), await opened(), await opened()]
    const usable = Math.min(...tries.map((each) => each.usable))
    const [{ page }] = tries as [(typeof tries)[0]]
    for (const other of tries.slice(1)) await other.page.close()
    await settled(page)
    const work = manyWork()
    const mark = work.found?.marks[1600]
    const at = middle(mark as never)
    const from = await onScreen(page, work, at)
    const to = await onScreen(page, work, turned(at, work.found?.centrePx as never, 4))
    await page.evaluate(busyFrames)
    await page.mouse.move(...from)
    await page.mouse.down()
    const begun = await page.evaluate(() => performance.now())
    for (let i = 1; i <= 120; i++) {
      await page.mouse.move(from[0] + ((to[0] - from[0]) * i) / 120, from[1] + ((to[1] - from[1]) * i) / 120)
      await page.waitForTimeout(8)
    }
    const all = (await page.evaluate(() => (globalThis as unknown as { frames: [number, number][] }).frames)) as readonly [number, number][]
    await page.mouse.up()
    const during = all.filter(([start]) => start > begun)
    const work95 = quantile(during.map(([, busy]) => busy), 0.95)
    const perSecond = (during.length - 1) / (((during.at(-1)?.[0] ?? 0) - (during[0]?.[0] ?? 0)) / 1000)
    const gaps = during.slice(1).map(([start], i) => start - (during[i]?.[0] ?? 0))
    console.log(`usable after ${usable.toFixed(0)} ms; ${during.length} frames, ${perSecond.toFixed(1)} a second, median gap ${quantile(gaps, 0.5).toFixed(1)} ms, 95 % ${quantile(gaps, 0.95).toFixed(1)} ms, work in a frame 95 % ${work95.toFixed(1)} ms`)
    expect(during.length).toBeGreaterThan(30)
    expect(perSecond).toBeGreaterThanOrEqual(50)
    expect(work95).toBeLessThan(20)
    expect(usable).toBeLessThan(1500)
  })
})

describe('the weight of the page', () => {
  it('is under 250 kB compressed without the plotting library', () => {
    const files = readdirSync(join(dist, 'page'), { recursive: true }).map(String).filter((name) => name.endsWith('.br'))
    const bytes = files.reduce((sum, name) => sum + statSync(join(dist, 'page', name)).size, 0)
    console.log(`${(bytes / 1000).toFixed(1)} kB in ${files.length} files`)
    expect(files.some((name) => /index.*\.js/.test(name))).toBe(true)
    expect(bytes).toBeLessThan(250_000)
  })
})
