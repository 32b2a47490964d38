import type { Page } from 'playwright-core'
import type { Point } from '#core/detect/raster'
import type { Work } from '#core/review/work'

/** Waits until the figures of the test on the bench are there and nothing is being measured. */
export const settled = async (page: Page): Promise<void> => {
  await page.waitForSelector('.live .figure dd')
  await page.waitForFunction(() => !document.querySelector('.live.settling'))
}

export const toStep = async (page: Page, step: string): Promise<void> => {
  await page.click(`.rule a[href="#${step}"]`)
}

export const headline = (page: Page): Promise<string> => page.locator('.live .headline').innerText()

export const saved = (page: Page): Promise<unknown> => page.waitForSelector('.save-saved')

/** Where a place of the photo lies on the screen while the whole photo is shown. */
export const onScreen = async (page: Page, work: Work, [x, y]: Point): Promise<Point> => {
  await page.locator('.stage').scrollIntoViewIfNeeded()
  const box = await page.locator('.stage').evaluate((element) => {
    const { left, top } = element.getBoundingClientRect()
    return { left: left + element.clientLeft, top: top + element.clientTop, width: element.clientWidth, height: element.clientHeight }
  })
  const { widthPx = 1, heightPx = 1 } = work.found ?? {}
  const scale = Math.min(box.width / widthPx, box.height / heightPx) * 0.97
  return [box.left + (box.width - widthPx * scale) / 2 + x * scale, box.top + (box.height - heightPx * scale) / 2 + y * scale]
}

/** Comes nearer about a place on the screen, which stays where it is. @returns how many times nearer */
export const nearer = async (page: Page, [x, y]: Point): Promise<number> => {
  await page.mouse.move(x, y)
  await page.mouse.wheel(0, -1000)
  await page.waitForTimeout(100)
  return Math.exp(1.8)
}

/** Presses at one place, moves in steps, lets go at the other. */
export const drag = async (page: Page, [ax, ay]: Point, [bx, by]: Point, steps = 10): Promise<void> => {
  await page.mouse.move(ax, ay)
  await page.mouse.down()
  for (let i = 1; i <= steps; i++) await page.mouse.move(ax + ((bx - ax) * i) / steps, ay + ((by - ay) * i) / steps)
  await page.mouse.up()
}

export const middle = ({ p0, p1 }: { readonly p0: Point; readonly p1: Point }): Point => [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2]

/** A place turned about the centre, deg counter-clockwise as seen. */
export const turned = ([x, y]: Point, [cx, cy]: Point, deg: number): Point => {
  const angle = (-deg * Math.PI) / 180
  const [dx, dy] = [x - cx, y - cy]
  return [cx + dx * Math.cos(angle) - dy * Math.sin(angle), cy + dx * Math.sin(angle) + dy * Math.cos(angle)]
}
