import { expect, it } from 'vitest'
import { resolvablePerFullStep } from '#core/decide/mode-verdict'

// Two marks of u = 0.2 mm need 2u between them; positions per 1.8° step, computed from that rule.
it('microsteps a pointer can separate: R = 50 … 300 mm gives 3.93, 6.28, 7.85, 11.78, 15.71, 23.56', () => {
  const table = [
    [50, 3.93],
    [80, 6.28],
    [100, 7.85],
    [150, 11.78],
    [200, 15.71],
    [300, 23.56],
  ] as const
  for (const [radius, count] of table) expect(resolvablePerFullStep(1.8, ((0.2 / radius) * 180) / Math.PI)).toBeCloseTo(count, 2)
})
