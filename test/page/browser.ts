import chromium from '@sparticuz/chromium'
import { type Browser, chromium as launcher } from 'playwright-core'

/** The browser that comes inside a package: no installed one is needed. */
export const openBrowser = async (): Promise<Browser> => launcher.launch({ executablePath: await chromium.executablePath(), args: ['--no-sandbox', '--no-zygote', '--disable-gpu', '--disable-dev-shm-usage'], headless: true })
