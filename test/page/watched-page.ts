import type { Browser, BrowserContextOptions, Page } from 'playwright-core'

export const desk: BrowserContextOptions = { viewport: { width: 1280, height: 800 } }
export const phone: BrowserContextOptions = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 }

export interface Watched {
  readonly page: Page
  /** Errors the page threw and what its policy blocked. */
  readonly faults: readonly string[]
}

/** A page of its own whose faults are remembered. */
export const openPage = async (browser: Browser, options: BrowserContextOptions): Promise<Watched> => {
  const page = await (await browser.newContext({ ...options, acceptDownloads: true })).newPage()
  page.setDefaultTimeout(90_000)
  const faults: string[] = []
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => {
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text())) faults.push(message.text())
  })
  return { page, faults }
}
