import { expect, test } from 'vitest'
import { durationText } from '#core/report/duration-text'

test('seconds below a minute and a half, whole minutes below two hours, then hours', () => {
  expect([0, 12.4, 89.4, 89.6, 150, 3920, 7169, 7170, 7500, 36_000].map(durationText)).toEqual(['0 s', '12 s', '89 s', '2 min', '3 min', '65 min', '119 min', '2 h 0 min', '2 h 5 min', '10 h 0 min'])
})
