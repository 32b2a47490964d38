import { spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { emptyWork } from '#core/review/work'
import { openBrowser } from './browser.ts'
import { dist, type Running, startBench } from './bench-process.ts'
import { settled, toStep } from './places.ts'
import { layDown } from './simulated-test.ts'
import { desk, openPage } from './watched-page.ts'

// Simulated traces that come with the tool.
const samples = { 'flap-1': 'flap-1-can-stack', 'pump-1': 'pump-1-good-hybrid', 'pump-2': 'pump-2-mediocre-hybrid' } as const

let browser: Browser
let bench: Running

const textOf = (name: keyof typeof samples): string => readFileSync(`samples/${samples[name]}.csv`, 'utf8')

const measured = (name: keyof typeof samples): unknown => {
  const trace = readTrace(textOf(name))
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  if (isUnmeasurable(result)) throw new Error(result.what)
  return result
}

const typedWork = () => {
  const lines = textOf('flap-1').trim().split(/\r?\n/)
  const setUp = Object.fromEntries(lines.filter((line) => line.startsWith('#')).map((line) => line.slice(1).split(/:(.*)/).map((part) => part.trim())))
  const rows = lines.filter((line) => /^\d/.test(line)).map((line) => [line.split(',')[0] ?? '', '', line.split(',')[1] ?? ''])
  return { ...emptyWork('flap'), setUp, rows }
}

beforeAll(async () => {
  bench = await startBench()
  layDown(bench.project, 'flap', typedWork())
  for (const name of Object.keys(samples) as (keyof typeof samples)[]) {
    mkdirSync(join(bench.project, 'evidence', name), { recursive: true })
    writeFileSync(join(bench.project, 'evidence', name, 'result.json'), JSON.stringify(measured(name)))
  }
  browser = await openBrowser()
})
afterAll(async () => {
  await browser?.close()
  await bench?.stop()
})

const command = (...options: readonly string[]): unknown => {
  const { stdout, stderr } = spawnSync(process.execPath, [join(dist, 'main.js'), ...options, '--json'], { encoding: 'utf8' })
  if (!stdout) throw new Error(stderr)
  return JSON.parse(stdout)
}

const opened = async (step: string): Promise<Page> => {
  const { page } = await openPage(browser, desk)
  await page.goto(bench.address)
  await settled(page)
  await toStep(page, step)
  return page
}

const cells = (page: Page, column: string): Promise<readonly string[]> => page.locator(`.ranking tbody tr ${column}`).allInnerTexts()

describe('comparing on the page', () => {
  it('ranks as the command does, without a requirement and with one', async () => {
    const page = await opened('compare')
    // Three saved results and the test on the bench, which is the first of them once more.
    await page.getByRole('checkbox', { name: 'flap-1' }).uncheck()
    await page.waitForFunction(() => document.querySelectorAll('.ranking tbody tr').length === 3)
    const paths = Object.keys(samples).map((name) => join(bench.project, 'evidence', name))
    for (const [needs, choose] of [
      [[], async () => undefined],
      [['--need-mode', '4'], async () => page.getByLabel('Mode that must hold').selectOption('4')],
      [['--need-mode', '4', '--need-effective', '14'], async () => page.getByLabel('Effective microsteps').fill('14')],
    ] as const) {
      await choose()
      const { ranked } = command('compare', ...paths, ...needs) as { readonly ranked: readonly { readonly label: string; readonly met: string }[] }
      await expect.poll(async () => (await cells(page, 'th')).map((text) => text.split('\n')[0])).toEqual(ranked.map(({ label }) => label))
      if (needs.length === 0) continue
      const words = { meets: 'meets it', open: 'not proven', misses: 'misses it' } as const
      await expect.poll(async () => (await cells(page, '.mode-verdict')).map((text) => text.slice(2))).toEqual(ranked.map(({ met }) => words[met as keyof typeof words]))
    }
  })

  it('says what is wrong with a need, and what to do', async () => {
    const page = await opened('compare')
    await page.waitForSelector('.ranking')
    await page.getByLabel('Coarsest step that will do').fill('thin')
    expect(await page.locator('.compare-page .wrong').innerText()).toMatch(/coarsest step[\s\S]*Give a number and a unit/)
  })

  it('draws the ranking on the paper of the scheme in force, and anew when it changes', async () => {
    const page = await opened('compare')
    /** Brightness of the drawing's corner, 0 to 255. */
    const corner = async (): Promise<number> =>
      page.locator('.drawn img').evaluate(async (image: HTMLImageElement) => {
        await image.decode()
        const canvas = document.createElement('canvas')
        const pen = canvas.getContext('2d')
        pen?.drawImage(image, 0, 0)
        return pen?.getImageData(1, 1, 1, 1).data[0] ?? -1
      })
    await page.waitForSelector('.drawn img')
    expect(await corner()).toBe(255)
    const before = await page.locator('.drawn img').getAttribute('src')
    await page.emulateMedia({ colorScheme: 'dark' })
    await page.waitForFunction((old) => document.querySelector('.drawn img')?.getAttribute('src') !== old, before)
    expect(await corner()).toBeLessThan(60)
  })
})

describe('the machine on the page', () => {
  it('gives the force that the command gives, and keeps what was typed', async () => {
    const page = await opened('machine')
    await page.getByRole('button', { name: 'Add it' }).click()
    await page.getByLabel('Finest move').fill('0.03 mm')
    await page.getByText('Load and force').click()
    const load = [['Moving mass', '--mass', '1.2 kg'], ['Friction force', '--force', '3 N'], ['Speed', '--speed', '5 mm/s'], ['Acceleration', '--acceleration', '100 mm/s²'], ['Holding torque', '--holding', '40 N·cm'], ['Pull-out torque', '--pull-out', '200:20 N·cm, 800:8 N·cm']] as const
    for (const [label, , value] of load) await page.getByLabel(label).fill(value)
    const { trains } = command('travel', '--steps-per-rev', '48', '--microsteps', '4', '--screw', 'M8', ...load.flatMap(([, option, value]) => [option, value])) as { readonly trains: readonly { readonly dynamics: { readonly torqueMargin: number; readonly torques: readonly { readonly acceleratingNm: number }[] } }[] }
    const dynamics = trains[0]?.dynamics
    const said = await page.locator('.machine-page .lines').innerText()
    expect(said).toContain(`${Number(((dynamics?.torques[0]?.acceleratingNm ?? 0) * 1000).toPrecision(3))} mN·m`)
    expect(await page.locator('.machine-page').innerText()).toContain(`${Number(dynamics?.torqueMargin.toPrecision(2))} times what is needed`)
    await page.waitForSelector('.save-saved')
    await page.reload()
    await page.waitForSelector('.machine-page .lines')
    expect(await page.getByLabel('Pull-out torque').inputValue()).toBe('200:20 N·cm, 800:8 N·cm')
    await page.getByLabel('Moving mass').fill('heavy')
    expect(await page.locator('.field-wrong').innerText()).toMatch(/not a mass that can be read; give a number and a unit/)
  })
})
