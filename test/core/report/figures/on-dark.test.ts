import { expect, it } from 'vitest'
import { onDark } from '#core/report/figures/on-dark'
import { svgDocument, words } from '#core/report/figures/svg'
import { palette } from '#core/report/palette'

it('changes paper and ink, keeps colours that carry meaning and what is written', () => {
  const drawn = (label: string, meaning: string) => svgDocument({ width: 9, height: 9, title: 'x' }, words(label, 1, 1) + words('b', 2, 2, { fill: meaning }))
  const dark = onDark(drawn('fill="#ffffff" #20282e', palette.moved))
  expect(dark).toContain(`fill="${palette.darkPaper}"`)
  expect(dark).toContain(`fill="${palette.darkInk}"`)
  expect(dark).toContain(`fill="${palette.moved}"`)
  expect(dark).toContain('fill=&quot;#ffffff&quot; #20282e</text>')
  expect(dark).not.toMatch(new RegExp(`"(${palette.paper}|${palette.ink})"`))
})
