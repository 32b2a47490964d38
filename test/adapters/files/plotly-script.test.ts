import { expect, it } from 'vitest'
import { plotlyScript } from '#adapters/files/plotly-script'

it('can stand inside a script element: nothing in it ends the element or opens a comment', async () => {
  const script = await plotlyScript()
  expect(script.length).toBeGreaterThan(1_000_000)
  expect(script).not.toMatch(/<\/script|<!--/i)
})
