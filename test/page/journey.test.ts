import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, CDPSession, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Point } from '#core/detect/raster'
import type { Result } from '#core/report/result-schema'
import { openBrowser } from './browser.ts'
import { dist, type Running, startBench } from './bench-process.ts'
import { drag, middle, nearer, onScreen, saved, settled, toStep } from './places.ts'
import { photoFile, savedWork } from './simulated-test.ts'
import { desk, openPage, phone } from './watched-page.ts'

let browser: Browser
beforeAll(async () => { browser = await openBrowser() })
afterAll(async () => browser?.close())

interface Evidence extends Result {
  readonly detection: NonNullable<Result['detection']> & { readonly edited?: { readonly found: { readonly marks: readonly unknown[] }; readonly changes: readonly { readonly kind: string }[] } }
}

const evidence = ({ project }: Running, id: string): Evidence => JSON.parse(readFileSync(join(project, 'evidence', id, 'result.json'), 'utf8')) as Evidence

const patience = { timeout: 200_000 }

/** What must hold in the end, whichever way it was reached: a folder that tells what was found and what was changed. */
const proves = (bench: Running, id: string, kinds: readonly string[]): void => {
  const { motor, modes, detection, input } = evidence(bench, id)
  expect(motor).toMatchObject({ stepsPerRev: 48, microsteps: 4 })
  expect(input.kind).toBe('photo')
  expect(modes.map(({ microsteps }) => microsteps)).toEqual([1, 2, 4])
  expect(detection.edited?.changes.map(({ kind }) => kind), JSON.stringify(detection.edited?.changes)).toEqual(kinds)
  // 48 distinct marks: the sample's own truth file.
  expect(detection.edited?.found.marks.length).toBe(48)
}

describe('a photo becomes saved evidence', () => {
  it('by mouse', async () => {
    const bench = await startBench()
    const { page, faults } = await openPage(browser, desk)
    await page.goto(bench.address)
    await page.locator('.first input').click()
    await page.keyboard.type('flap by mouse')
    await page.click('text=Put it on the bench')
    await page.click('text=From a photo')
    await page.getByLabel('Full steps per turn').click()
    await page.keyboard.type('48')
    await page.getByLabel('Microsteps per full step').click()
    await page.keyboard.type('4')
    await page.getByLabel('Ink').selectOption('dark')
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.click('text=Choose a photo')])
    await chooser.setFiles(photoFile)
    await page.waitForSelector('.stage, .wrong', patience)
    await settled(page)
    await saved(page)
    const work = savedWork(bench.project, 'flap-by-mouse')
    const place = await onScreen(page, work, middle(work.found?.marks[10] as never))
    await nearer(page, place)
    await drag(page, place, [place[0] + 12, place[1] + 6])
    await settled(page)
    await page.click('text=To the verdict')
    await page.waitForSelector('.verdict-words')
    await page.waitForSelector('.plot-place svg')
    await page.click('text=Keep the evidence')
    await page.click('text=Save the evidence')
    await page.waitForSelector('.written', patience)
    proves(bench, 'flap-by-mouse', ['move'])
    // What was told about the photo is kept, so that its marks can be looked for again; the one moved by hand is compared as it was found.
    const again = JSON.parse(spawnSync(process.execPath, [join(dist, 'main.js'), 'replay', join(bench.project, 'evidence', 'flap-by-mouse'), '--json'], { encoding: 'utf8', maxBuffer: 1e8 }).stdout) as { readonly same: boolean; readonly photo: { readonly text: string } }
    expect(again.photo.text).toMatch(/all 48 marks found again/)
    expect(again.same).toBe(true)
    await page.getByRole('textbox', { name: 'Note' }).or(page.getByRole('combobox', { name: 'Note' })).fill('flap')
    await page.click('text=Put it into the note')
    await expect.poll(() => { try { return readFileSync(join(bench.project, 'notes/flap.md'), 'utf8') } catch { return '' } }).toMatch(/microsteps/)
    expect(faults).toEqual([])
    await bench.stop()
  }, 480_000)

  it('by keyboard alone', async () => {
    const bench = await startBench()
    const { page } = await openPage(browser, desk)
    await page.goto(bench.address)
    await page.waitForSelector('.first')
    /** Presses Tab until what has the focus bears the name. */
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let i = 0; i < 90; i++) {
        await page.keyboard.press('Tab')
        const found = await page.evaluate(() => {
          const element = document.activeElement as HTMLInputElement | null
          return `${element?.getAttribute('aria-label') ?? ''} ${element?.labels?.[0]?.textContent ?? ''} ${element?.matches('button, a, summary') ? element.textContent : ''}`
        })
        if (name.test(found)) return
      }
      throw new Error(`Tab never came to ${name}`)
    }
    await tabTo(/call this motor/)
    await page.keyboard.type('flap by keys')
    await page.keyboard.press('Enter')
    await page.waitForSelector('text=From a photo')
    await tabTo(/From a photo/)
    await page.keyboard.press('Space')
    await tabTo(/Full steps per turn/)
    await page.keyboard.type('48')
    await tabTo(/Microsteps per full step/)
    await page.keyboard.type('4')
    await tabTo(/Choose a photo/)
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Space')])
    await chooser.setFiles(photoFile)
    await page.waitForSelector('.stage, .wrong', patience)
    await settled(page)
    await tabTo(/Photo with its marks/)
    for (const key of ['n', 'n', 'ArrowLeft', 'c']) await page.keyboard.press(key)
    await page.keyboard.press('Escape')
    await page.keyboard.press('Tab')
    await saved(page)
    await settled(page)
    await tabTo(/To the verdict/)
    await page.keyboard.press('Enter')
    await page.waitForSelector('.verdict-words')
    await tabTo(/Keep the evidence/)
    await page.keyboard.press('Enter')
    await page.waitForSelector('text=Save the evidence')
    await tabTo(/Save the evidence/)
    await page.keyboard.press('Enter')
    await page.waitForSelector('.written', patience)
    proves(bench, 'flap-by-keys', ['move'])
    await bench.stop()
  }, 480_000)

  it('by touch on a phone', async () => {
    const bench = await startBench()
    const { page, faults } = await openPage(browser, phone)
    const touch = await page.context().newCDPSession(page)
    await page.goto(bench.address)
    await page.locator('.first input').tap()
    await page.keyboard.type('flap by touch')
    await page.getByText('Put it on the bench').tap()
    await page.getByText('From a photo').tap()
    await page.getByLabel('Full steps per turn').tap()
    await page.keyboard.type('48')
    await page.getByLabel('Microsteps per full step').tap()
    await page.keyboard.type('4')
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.getByText('Choose a photo').tap()])
    await chooser.setFiles(photoFile)
    await page.waitForSelector('.stage, .wrong', patience)
    await settled(page)
    await saved(page)
    const work = savedWork(bench.project, 'flap-by-touch')
    const place = await onScreen(page, work, middle(work.found?.marks[10] as never))
    await pinch(touch, place, 4)
    await page.waitForTimeout(200)
    await slide(touch, place, [place[0] + 24, place[1] + 10])
    await saved(page)
    await settled(page)
    await page.getByText('To the verdict').tap()
    await page.waitForSelector('.verdict-words')
    await page.getByText('Keep the evidence').tap()
    await page.getByRole('button', { name: 'Save the evidence' }).tap()
    await page.waitForSelector('.written', patience)
    proves(bench, 'flap-by-touch', ['move'])
    expect(faults).toEqual([])
    await bench.stop()
  }, 480_000)
})

const fingers = (touch: CDPSession, type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly Point[]): Promise<unknown> =>
  touch.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) })

/** One finger from place to place. */
const slide = async (touch: CDPSession, from: Point, to: Point): Promise<void> => {
  await fingers(touch, 'touchStart', [from])
  for (let i = 1; i <= 8; i++) await fingers(touch, 'touchMove', [[from[0] + ((to[0] - from[0]) * i) / 8, from[1] + ((to[1] - from[1]) * i) / 8]])
  await fingers(touch, 'touchEnd', [])
}

/** Two fingers apart about a place, which stays where it is. */
const pinch = async (touch: CDPSession, [x, y]: Point, times: number): Promise<void> => {
  const at = (half: number): readonly Point[] => [[x - half, y], [x + half, y]]
  await fingers(touch, 'touchStart', at(20))
  for (let i = 1; i <= 8; i++) await fingers(touch, 'touchMove', at(20 * (1 + ((times - 1) * i) / 8)))
  await fingers(touch, 'touchEnd', [])
}

describe('typing and pacing', () => {
  it('takes a table from a spreadsheet, and names the row and the cure when one cell is wrong', async () => {
    const bench = await startBench()
    const { page } = await openPage(browser, desk)
    await page.goto(bench.address)
    await page.click('text=Put it on the bench')
    await page.waitForSelector('.grid')
    const text = readFileSync('samples/flap-1-can-stack.csv', 'utf8')
    await paste(page, text)
    await settled(page)
    expect(await page.getByLabel('Full steps per turn').inputValue()).toBe('48')
    await page.locator('#cell-3-0').fill('3.7.1')
    await page.waitForSelector('.wrong-row')
    expect(await page.locator('.typing .wrong').innerText()).toMatch(/Row 4.*not a finite number[\s\S]*Type the position as digits/)
    await bench.stop()
  })

  it('counts on after a reload', async () => {
    const bench = await startBench()
    const { page } = await openPage(browser, phone)
    await page.goto(bench.address)
    await page.getByText('Put it on the bench').tap()
    await toStep(page, 'pace')
    await page.getByLabel('Commands in the run').fill('48')
    await page.getByText('Begin with the start mark').tap()
    for (let i = 0; i < 3; i++) await page.getByText('Next now').tap()
    expect(await page.locator('.pace-number').innerText()).toBe('3')
    await saved(page)
    await page.reload()
    expect(await page.locator('.pace-number').innerText()).toBe('3')
    const size = await page.locator('.pace-number').evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize))
    // Read from an arm's length (0.7 m) at 0.4° of sight, which is generous for figures: 5 mm, or about 32 CSS px on a phone (common practice, no source).
    expect(size).toBeGreaterThan(100)
    // What cannot be taken back is asked twice.
    await page.getByText('Give up this run').tap()
    expect(await page.locator('.pace-number').innerText()).toBe('3')
    await page.getByText('Really give it up?').tap()
    await page.waitForSelector('.pace-begin')
    await bench.stop()
  })
})

const paste = (page: Page, text: string): Promise<void> =>
  page.locator('#cell-0-0').evaluate((cell, text) => {
    const data = new DataTransfer()
    data.setData('text/plain', text)
    cell.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }))
  }, text)
