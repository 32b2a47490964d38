import { expect, it } from 'vitest'
import { element, escapeXml, words } from '#core/report/figures/svg'

it('escapes the five characters of XML 1.0, section 2.4', () => {
  expect(escapeXml(`<&>"'`)).toBe('&lt;&amp;&gt;&quot;&#39;')
})

it('drops what XML 1.0, section 2.2 forbids, and keeps the rest of Unicode', () => {
  expect(escapeXml('a\u0000b\u001bc\ufffed\ud800e µ° 🔩\t')).toBe('abcde µ° 🔩\t')
})

it('attributes and text cannot break out', () => {
  expect(element('a', { title: '"><script>' })).toBe('<a title="&quot;&gt;&lt;script&gt;"/>')
  expect(words('</text><script>', 1, 2)).not.toContain('<script>')
})
