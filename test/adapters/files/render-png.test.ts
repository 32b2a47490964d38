import sharp from 'sharp'
import { expect, it } from 'vitest'
import { renderPng } from '#adapters/files/render-png'
import { figureSet } from '#core/report/figures/figure-set'
import { svgDocument, words } from '#core/report/figures/svg'
import { measured, sixteen } from '../../core/report/measured.ts'

it('draws at twice the size, words included, from the fonts of a package', async () => {
  const blank = renderPng(svgDocument({ width: 200, height: 60, title: 'blank' }, ''))
  const written = renderPng(svgDocument({ width: 200, height: 60, title: 'written' }, words('0.112 ± 0.004°', 10, 40)))
  expect(await sharp(blank).metadata()).toMatchObject({ format: 'png', width: 400, height: 120 })
  const darkest = async (png: Uint8Array): Promise<number> => (await sharp(png).greyscale().stats()).channels[0]?.min ?? 255
  expect(await darkest(blank)).toBe(255)
  expect(await darkest(written)).toBeLessThan(100)
})

it('takes every figure: a strict XML reader stands before the renderer', () => {
  for (const { svg } of figureSet(measured(sixteen))) expect(renderPng(svg).length).toBeGreaterThan(5000)
})
