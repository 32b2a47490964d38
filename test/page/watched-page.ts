import type { Browser, BrowserContextOptions, Page } from 'playwright-core'
import { onTestFinished } from 'vitest'

export const desk: BrowserContextOptions = { viewport: { width: 1280, height: 800 } }
export const phone: BrowserContextOptions = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 }

export interface Watched {
  readonly page: Page
  /** Errors the page threw and what its policy blocked. */
  readonly faults: readonly string[]
}

/** Below the time a test has, so that a page that waits for ever says what for. */
const patienceMs = 45_000

/** What a page shows, for the report of a test that failed; a page that hangs does not even say that. */
const shown = (page: Page): Promise<string> =>
  Promise.race([
    page.evaluate(() => document.body.innerText).catch(String),
    new Promise<string>((done) => setTimeout(() => done('nothing: it does not answer'), 5000)),
  ])

/** A page of its own whose faults are remembered; it ends with the test, and tells where it stood when that failed. */
export const openPage = async (browser: Browser, options: BrowserContextOptions): Promise<Watched> => {
  const context = await browser.newContext({ ...options, acceptDownloads: true })
  const page = await context.newPage()
  page.setDefaultTimeout(patienceMs)
  const faults: string[] = []
  const asked = new Set<string>()
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => {
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text())) faults.push(message.text())
  })
  page.on('request', (request) => asked.add(request.url()))
  page.on('requestfinished', (request) => asked.delete(request.url()))
  onTestFinished(async ({ task }) => {
    if (task.result?.state === 'fail') console.error(`${page.url()} showed: ${await shown(page)}\nfaults: ${faults.join('; ')}\nnot answered: ${[...asked].join(' ')}\nworkers: ${page.workers().map((worker) => worker.url()).join(' ')}`)
    await context.close()
  })
  return { page, faults }
}
