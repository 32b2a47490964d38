import { createHash } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { plotlyScript } from '#adapters/files/plotly-script'
import { figureSet } from '#core/report/figures/figure-set'
import { reportHtml } from '#core/report/html/report-html'
import { measured, threeOfFour } from '../core/report/measured.ts'
import { openBrowser } from './browser.ts'

const folder = mkdtempSync(join(tmpdir(), 'report-page-'))
const address = pathToFileURL(join(folder, 'report.html')).href
const axeScript = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
let browser: Browser

beforeAll(async () => {
  const result = measured(threeOfFour.replace('heater flap', '<b onclick=alert(1)>flap</b>'))
  const html = reportHtml(result, { plotlyScript: await plotlyScript(), sha256Base64: (text) => createHash('sha256').update(text).digest('base64'), figures: figureSet(result) })
  writeFileSync(join(folder, 'report.html'), html)
  browser = await openBrowser()
}, 120_000)

afterAll(async () => {
  await browser.close()
  rmSync(folder, { recursive: true, force: true })
})

interface Opened {
  readonly page: Page
  readonly complaints: readonly string[]
  readonly requests: readonly string[]
}

/** The page, scrolled through once so that every plot has been drawn; what it complained of and asked for. */
const open = async (options: BrowserContextOptions): Promise<Opened> => {
  const page = await (await browser.newContext(options)).newPage()
  const complaints: string[] = []
  const requests: string[] = []
  page.on('console', (message) => ['error', 'warning'].includes(message.type()) && complaints.push(message.text()))
  page.on('pageerror', (error) => complaints.push(error.message))
  page.on('request', (request) => requests.push(request.url()))
  await page.goto(address)
  if (options.javaScriptEnabled !== false)
    for (const place of await page.locator('[data-plot]').all()) {
      await place.scrollIntoViewIfNeeded()
      await place.locator('.main-svg').first().waitFor()
    }
  return { page, complaints, requests }
}

describe('report.html in a browser', () => {
  for (const colorScheme of ['light', 'dark'] as const)
    it(`draws every plot under its own policy, offline, and passes the accessibility checks (${colorScheme}, phone)`, async () => {
      const { page, complaints, requests } = await open({ viewport: { width: 390, height: 844 }, colorScheme, offline: true })
      expect(await page.locator('.drawn .main-svg').count()).toBeGreaterThanOrEqual(7)
      expect(complaints).toEqual([])
      expect(requests.filter((url) => !/^(data|blob):/.test(url))).toEqual([address])
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(390)
      await page.evaluate(axeScript)
      const found = (await page.evaluate('axe.run({ resultTypes: ["violations"] })')) as { readonly violations: readonly { readonly id: string }[] }
      expect(found.violations.map(({ id }) => id)).toEqual([])
      await page.context().close()
    })

  it('shows still pictures and every table where scripts do not run', async () => {
    const { page } = await open({ javaScriptEnabled: false })
    expect(await page.locator('.still svg:visible').count()).toBeGreaterThanOrEqual(6)
    expect(await page.locator('.live:visible').count()).toBe(0)
    expect(await page.locator('h1').textContent()).toBe('Trust this motor in full steps.')
    await page.context().close()
  })

  it('shows a hostile name as text', async () => {
    const { page } = await open({ javaScriptEnabled: false })
    expect(await page.locator('.motor').textContent()).toBe('<b onclick=alert(1)>flap</b>')
    expect(await page.locator('[onclick]').count()).toBe(0)
    await page.context().close()
  })

  it('prints still pictures, not the live plots', async () => {
    const { page } = await open({})
    await page.emulateMedia({ media: 'print' })
    expect(await page.locator('.live:visible').count()).toBe(0)
    expect(await page.locator('.still svg:visible').count()).toBeGreaterThanOrEqual(6)
    await page.context().close()
  })
})
