import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Detection } from '#core/detect/detection'
import { keyFigures } from '#core/report/key-figures'
import { valueAndInterval } from '#core/report/number-text'
import { openBrowser } from './browser.ts'
import { dist } from './bench-process.ts'
import { settled, toStep } from './places.ts'
import { desk, openPage } from './watched-page.ts'
import { type WebSpace, webSpace } from './web-space.ts'

const byCommand = (photo: string): Detection => (JSON.parse(spawnSync(process.execPath, [join(dist, 'main.js'), 'detect', photo, '--json'], { encoding: 'utf8', maxBuffer: 1e8 }).stdout) as { detection: Detection }).detection

let browser: Browser
let space: WebSpace

beforeAll(async () => {
  space = await webSpace()
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  space?.server.close()
})

/** Marks as the page found and kept them in the browser's own store. */
const byPage = async (photo: string): Promise<Detection> => {
  const { page } = await openPage(browser, desk)
  await page.goto(space.address)
  await page.click('text=Put it on the bench')
  await page.click('text=From a photo')
  await page.getByLabel('Full steps per turn').fill('48')
  await page.getByLabel('Microsteps per full step').fill('4')
  await page.setInputFiles('input[type=file]', photo)
  // The photo itself is there from the start, its marks when they are found.
  await page.waitForSelector('.tools, .wrong', { timeout: 240_000 })
  await page.waitForSelector('.save-saved')
  const found = await page.evaluate(
    () =>
      new Promise<unknown>((done) => {
        const open = indexedDB.open('bench')
        open.onsuccess = () => {
          const all = open.result.transaction('tests').objectStore('tests').getAll()
          all.onsuccess = () => done((all.result[0] as { work: { found: unknown } }).work.found)
        }
      }),
  )
  return found as Detection
}

// The two decode a JPEG with different arithmetic (a grey level here and there). Stated tolerance: as many marks, each within a
// fifth of its own standard uncertainty or 0.01°, on a strip 0.2 px.
const samples = ['samples/flap-1-plain.jpg', 'samples/flap-1-sheet.jpg', 'samples/pump-1-strip.jpg']

describe('the page without a server finds what the command finds', () => {
  for (const photo of samples)
    it(photo, async () => {
      const [page, command] = [await byPage(photo), byCommand(photo)]
      expect(page.rig).toBe(command.rig)
      expect(page.marks.length).toBe(command.marks.length)
      const apart = page.marks.map((mark, i) => {
        const other = command.marks[i]
        return mark.angleDeg === null ? Math.abs((mark.positionPx ?? 0) - (other?.positionPx ?? 0)) / 0.2 : Math.abs(((mark.angleDeg - (other?.angleDeg ?? 0) + 540) % 360) - 180) / Math.max(0.01, (other?.uDeg ?? 0) / 5)
      })
      console.log(`${photo}: ${page.marks.length} marks, farthest apart ${Math.max(...apart).toFixed(3)} of the tolerance`)
      expect(Math.max(...apart)).toBeLessThanOrEqual(1)
    }, 480_000)

  it('measures a typed sample to the same figures, digit for digit', async () => {
    const text = readFileSync('samples/flap-1-can-stack.csv', 'utf8')
    const { page } = await openPage(browser, desk)
    await page.goto(space.address)
    await page.click('text=Put it on the bench')
    await page.locator('#cell-0-0').evaluate((cell, text) => {
      const data = new DataTransfer()
      data.setData('text/plain', text)
      cell.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }))
    }, text)
    await settled(page)
    const shown = await page.locator('.live .figure dd').allInnerTexts()
    const { measure } = await import('#core/measure')
    const { readTrace } = await import('#core/ingest/read-trace')
    const trace = readTrace(text)
    const result = 'marks' in trace ? measure(trace, { cause: false }) : null
    if (!result || !('figures' in result)) throw new Error('the sample cannot be measured')
    expect(shown[0]).toContain(valueAndInterval(result.figures.effectiveMicrosteps).split(' ')[0])
    expect(shown[1]).toContain(keyFigures(result).find(({ name }) => name.endsWith('peak to peak'))?.text.split(' ')[0])
  })

  it('draws the sheet with a name beyond Latin, and says which letters no font has', async () => {
    const { page, faults } = await openPage(browser, desk)
    await page.goto(space.address)
    await page.click('text=Put it on the bench')
    await toStep(page, 'plan')
    await page.getByLabel('Motor, as written on the sheet').fill('Źrebię 漢字')
    await toStep(page, 'print')
    await page.getByRole('button', { name: 'Draw the sheet' }).click()
    await page.getByRole('link', { name: /Save marking-sheet/ }).waitFor()
    expect(await page.getByRole('status').allInnerTexts()).toContainEqual(expect.stringContaining('No font here has 漢字:'))
    expect(faults).toEqual([])
  })
})
