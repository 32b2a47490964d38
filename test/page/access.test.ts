import { readFileSync } from 'node:fs'
import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser } from './browser.ts'
import { desk, openPage, phone } from './watched-page.ts'
import { type Running, startBench } from './bench-process.ts'
import { settled, toStep } from './places.ts'
import { flapWork, layDown } from './simulated-test.ts'

// axe-core 4.14 (Deque), rules for WCAG 2.0, 2.1 and 2.2, levels A and AA.
const axe = readFileSync('node_modules/axe-core/axe.min.js', 'utf8')
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

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

const violations = async (page: Page): Promise<readonly string[]> => {
  await page.addScriptTag({ content: axe })
  return page.evaluate(async (tags) => {
    const { violations } = await (globalThis as unknown as { axe: { run: (root: Document, options: object) => Promise<{ violations: { id: string; nodes: { target: string[] }[] }[] }> } }).axe.run(document, { runOnly: { type: 'tag', values: tags } })
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).slice(0, 4).join(' | ')}`)
  }, tags)
}

const screens = ['plan', 'print', 'pace', 'marks', 'verdict', 'machine', 'note', 'compare'] as const

const eachScreen = async (options: BrowserContextOptions, theme: string): Promise<readonly string[]> => {
  const { page, faults } = await openPage(browser, { ...options, bypassCSP: true })
  await page.addInitScript((theme) => localStorage.setItem('bench:theme', theme), theme)
  await page.goto(bench.address)
  await settled(page)
  const found: string[] = []
  for (const screen of screens) {
    await toStep(page, screen)
    if (screen === 'verdict') await page.waitForSelector('.plot-place svg')
    if (screen === 'marks') await page.keyboard.press('d')
    if (screen === 'machine') {
      await page.getByRole('button', { name: 'Add it' }).click()
      if (!(await page.getByLabel('Moving mass').isVisible())) await page.getByText('Load and force').click()
      await page.getByLabel('Moving mass').fill('heavy')
      await page.getByLabel('Friction force').fill('3 N')
    }
    if (screen === 'compare') await page.waitForSelector('.ranking')
    await page.waitForTimeout(150)
    found.push(...(await violations(page)).map((each) => `${screen}: ${each}`))
  }
  await toStep(page, 'marks')
  await page.click('text=Typed in')
  found.push(...(await violations(page)).map((each) => `typing: ${each}`))
  await page.click('text=From a photo')
  await page.getByRole('button', { name: /New test/ }).click()
  await page.waitForSelector('dialog')
  found.push(...(await violations(page)).map((each) => `new test: ${each}`))
  await page.keyboard.press('Escape')
  expect(faults).toEqual([])
  const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
  expect(overflow).toBeLessThanOrEqual(0)
  return found
}

describe('every screen can be used by everyone (axe-core, WCAG 2.2 A and AA)', () => {
  it('desk, light', async () => expect(await eachScreen(desk, 'light')).toEqual([]), 180_000)
  it('desk, dark', async () => expect(await eachScreen(desk, 'dark')).toEqual([]), 180_000)
  it('phone, light', async () => expect(await eachScreen(phone, 'light')).toEqual([]), 180_000)
  it('an empty bench', async () => {
    const empty = await startBench()
    const { page } = await openPage(browser, { ...desk, bypassCSP: true })
    await page.goto(empty.address)
    await page.waitForSelector('.first')
    expect(await violations(page)).toEqual([])
    await empty.stop()
  })
  it('a page without a key asks for a code', async () => {
    const { page } = await openPage(browser, { ...desk, bypassCSP: true })
    await page.goto(`http://127.0.0.1:${bench.port}/`)
    await page.waitForSelector('text=Join the bench')
    expect(await violations(page)).toEqual([])
  })
})
