import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { figureSet } from '#core/report/figures/figure-set'
import { reportHtml } from '#core/report/html/report-html'
import type { Result } from '#core/report/result-schema'
import { measured, simulatedTrace, threeOfFour } from '../measured.ts'
import { notWellFormed } from '../well-formed.ts'

const sha256Base64 = (text: string): string => createHash('sha256').update(text).digest('base64')
const plotlyScript = 'globalThis.Plotly = { react() {} }'
const page = (result: Result, more: object = {}): string => reportHtml(result, { plotlyScript, sha256Base64, figures: figureSet(result), ...more })

const hostile = `</script><img src=x onerror=alert(1)>"'&<!--`
const result = measured(threeOfFour)

describe('the report page', () => {
  const html = page(result)

  it('is well formed, every tag closed', () => {
    expect(notWellFormed(html, { html: true })).toBeNull()
  })

  it('says the verdict first, in its only h1', () => {
    const body = html.slice(html.indexOf('<body>'))
    expect(body.match(/<h1>/g)).toHaveLength(1)
    expect(body.indexOf('Trust this motor in full steps.')).toBeLessThan(body.indexOf('<h2'))
  })

  it('fetches nothing: no address but those of name spaces', () => {
    const addresses = [...html.matchAll(/https?:\/\/[^"'\s<)]+/g)].map(([address]) => address)
    expect(new Set(addresses)).toEqual(new Set(['http://www.w3.org/2000/svg']))
    expect(html).not.toMatch(/<(link|iframe|object)\b/)
  })

  it('allows exactly its own scripts, by hash', () => {
    const scripts = [...html.matchAll(/<script>([\s\S]*?)<\/script>/g)].map(([, text = '']) => `'sha256-${sha256Base64(text)}'`)
    expect(scripts).toHaveLength(2)
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? ''
    expect(policy).toContain(`script-src ${scripts.join(' ')};`)
    expect(policy).toMatch(/^default-src 'none';/)
    expect(html).not.toMatch(/ on[a-z]+="/)
  })

  it('carries the data of its plots as JSON', () => {
    const json = /<script type="application\/json" id="plot-data">([\s\S]*?)<\/script>/.exec(html)?.[1] ?? ''
    const plots = JSON.parse(json) as readonly { readonly id: string }[]
    for (const { id } of plots) expect(html).toContain(`data-plot="${id}"`)
  })

  it('has a caption on every table and a still picture for reading without scripts', () => {
    expect(html.match(/<table>/g)?.length).toBe(html.match(/<caption>/g)?.length)
    expect(html.match(/<svg /g)?.length).toBeGreaterThanOrEqual(6)
  })

  it('tells how to reproduce it and what to be careful of', () => {
    expect(html).toMatch(/seed of every sampling/)
    expect(html).toMatch(/Never unplug a motor from a live driver/)
  })
})

describe('text from people', () => {
  const named = measured(simulatedTrace({ stepsPerRev: 24, microsteps: 4, commands: 16, uDeg: 0.15, name: hostile }))
  const html = page({ ...named, input: { kind: 'photo', name: hostile, sha256: null }, warnings: [hostile] })

  it('cannot open a tag, end a script or start a comment', () => {
    expect(html).not.toContain('<img src=x')
    expect(html).not.toContain('<!--')
    expect(html.match(/<\/script>/g)).toHaveLength(3)
    expect(notWellFormed(html, { html: true })).toBeNull()
  })

  it('is still shown', () => {
    expect(html).toContain('&lt;/script&gt;&lt;img src=x onerror=alert(1)&gt;&quot;&#39;&amp;')
  })
})

describe('sections that wait for their figures', () => {
  const titles = (html: string): string[] => [...html.matchAll(/<h2[^>]*>([^<]*)/g)].map(([, title = '']) => title)
  const interval = { value: 0.1, low: 0.05, high: 0.15 }

  it('stay away while these are unknown', () => {
    const html = page({ ...result, motorFit: null, predictions: [], directions: null, warnings: [] })
    for (const title of ['What the motor does', 'Predictions for modes that were not measured', 'Two directions', 'What to mind, and what would cure it', 'The photo and the marks found in it']) expect(titles(html)).not.toContain(title)
  })

  it('appear with them', () => {
    const html = page(
      {
        ...result,
        motorFit: { detent2: interval, detent4: null, imbalance: interval, offset: null, friction: null, finding: { cause: 'detent', text: 'Detent torque is strong', confidence: 0.9 } },
        predictions: [{ microsteps: 8, effectiveMicrosteps: { value: 5, low: 4, high: 6 } }],
        directions: { reversalDeg: 0.3, reversalUDeg: 0.05, reversalMaxDeg: 0.6, deadBandDeg: 0.2, perCommand: [{ command: 1, reversalDeg: 0.3 }], iso230: null },
        passes: { ...result.passes, outward: 2, back: 1, iso230Missing: '3 more outward runs' },
        detection: { centrePx: [10, 10], rectifiedBy: 'paper', marks: [] },
      },
      { overlayPng: 'AAAA', more: ['<section id="other" aria-labelledby="other-title"><h2 id="other-title">At the carriage</h2></section>', null] },
    )
    for (const title of ['What the motor does', 'Predictions for modes that were not measured', 'Repeated runs', 'Two directions', 'At the carriage', 'The photo and the marks found in it']) expect(titles(html)).toContain(title)
    expect(html).toContain('These are predictions of the fitted model, not measurements.')
    expect(html).toContain('src="data:image/png;base64,AAAA"')
    expect(html).toContain('the data cannot tell')
    expect(notWellFormed(html, { html: true })).toBeNull()
  })
})
