import { describe, expect, test } from 'vitest'
import { drawnOn, type Drawing, hintsWith, nothingPlaced, placedBefore, placedText, placedTyped } from '#adapters/page/client/marks/drawn'

const stroke = (from: readonly [number, number], to: readonly [number, number], centre: readonly [number, number] | null = null) => ({ from, to, centre, reach: 10 })

describe('drawing on a photo', () => {
  test('a ring is drawn about the shaft as told, else as found, and about nothing where neither is known', () => {
    const told = drawnOn(nothingPlaced, 'centre', stroke([100, 100], [100, 100]))
    expect(drawnOn(told ?? nothingPlaced, 'ring', stroke([150, 100], [300, 100], [0, 0]))?.ring).toEqual([50, 200])
    expect(drawnOn(nothingPlaced, 'ring', stroke([0, 300], [0, 50], [0, 0]))?.ring).toEqual([50, 300])
    expect(drawnOn(nothingPlaced, 'ring', stroke([0, 300], [0, 50]))).toBeNull()
  })

  test('corners are placed one after the other; one that lies there is carried, and after four the nearest', () => {
    const places = [[0, 0], [100, 0], [100, 100], [0, 100]] as const
    const four = places.reduce((before, at) => drawnOn(before, 'corners', stroke(at, at)) ?? before, nothingPlaced)
    expect(four.corners).toEqual(places)
    expect(drawnOn(four, 'corners', stroke([98, 3], [110, -5]))?.corners).toEqual([[0, 0], [110, -5], [100, 100], [0, 100]])
    expect(drawnOn(four, 'corners', stroke([70, 70], [90, 90]))?.corners[2]).toEqual([90, 90])
  })

  test('what is typed is what is shown, and what says nothing is not taken', () => {
    const texts: readonly (readonly [Drawing, string])[] = [['centre', '10, 20'], ['ring', '50, 200'], ['corners', '0, 0; 100, 0; 100, 100; 0, 100'], ['box', '5, 6, 70, 80'], ['distance', '0, 0; 90, 10']]
    for (const [drawing, text] of texts) {
      const typed = placedTyped(nothingPlaced, drawing, text)
      expect(typed && placedText(typed, drawing)).toBe(text)
      expect(typed && placedTyped(typed, drawing, ' ')).toEqual(nothingPlaced)
    }
    for (const [drawing, text] of [['centre', '10'], ['ring', '200, 50'], ['corners', '0, 0; 100, 0'], ['box', '5, 6, 0, 80'], ['distance', 'a, b']] as const) expect(placedTyped(nothingPlaced, drawing, text)).toBeNull()
  })

  test('hints told before are begun from, one that was taken away is gone, boxes gather', () => {
    const before = { centrePx: [1, 2], radiusRangePx: [3, 4], ignorePx: [{ x: 0, y: 0, width: 5, height: 5 }], ink: 'dark' } as const
    expect(hintsWith(before, placedBefore(before), '')).toEqual(before)
    expect(hintsWith(before, { ...placedBefore(before), centre: null, box: { from: [9, 9], to: [19, 29] } }, '')).toEqual({ radiusRangePx: [3, 4], ignorePx: [...before.ignorePx, { x: 9, y: 9, width: 10, height: 20 }], ink: 'dark' })
    expect(hintsWith({}, { ...nothingPlaced, distance: { from: [0, 0], to: [90, 10] } }, '')).toEqual({})
    expect(hintsWith({}, { ...nothingPlaced, distance: { from: [0, 0], to: [90, 10] } }, '25')).toEqual({ scalePx: { from: [0, 0], to: [90, 10], mm: 25 } })
  })
})
