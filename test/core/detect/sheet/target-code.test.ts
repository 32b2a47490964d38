import { describe, expect, it } from 'vitest'
import { pageCount, pageNumber, pageOfNumber } from '#core/detect/sheet/page-number'
import { identities, identityAt, identityOf, tickPlaces, ticksOf } from '#core/detect/sheet/target-code'
import { targetPlaces } from '#core/detect/sheet/target-places'

const turnedBy = (ticks: readonly boolean[], turn: number): readonly boolean[] =>
  ticks.map((_, place) => ticks[(place - turn + tickPlaces) % tickPlaces] === true)

describe('target identities', () => {
  it('are told, with their turn, from any starting place', () => {
    for (let identity = 0; identity < identities; identity++) {
      for (let turn = 0; turn < tickPlaces; turn++) {
        expect(identityOf(turnedBy(ticksOf(identity), turn))).toEqual({ identity, turn })
      }
    }
  })

  it('are as many as necklaces of 13 beads with 6 dark ones, C(13, 6)/13 = 132 by Burnside’s count, less one', () => {
    expect(identities).toBe(132 - 1)
  })

  it('are lost, not changed, when one place is misread', () => {
    for (let identity = 0; identity < identities; identity++) {
      for (let place = 0; place < tickPlaces; place++) {
        expect(identityOf(ticksOf(identity).map((tick, n) => (n === place ? !tick : tick)))).toBeNull()
      }
    }
  })

  it('differ within a page, and two pages share at most one identity at one place', () => {
    const rows = Array.from({ length: pageCount }, (_, page) => targetPlaces(pageOfNumber(page)).map((_, place) => identityAt(page, place)))
    for (const row of rows) expect(new Set(row).size).toBe(row.length)
    rows.forEach((a, n) => {
      for (const b of rows.slice(n + 1)) expect(a.filter((identity, place) => identity === b[place]).length).toBeLessThanOrEqual(1)
    })
  })

  it('page numbers go there and back', () => {
    for (let page = 0; page < pageCount; page++) expect(pageNumber(pageOfNumber(page))).toBe(page)
    expect(() => pageNumber({ rig: 'pointer', paper: 'a4', column: 3, row: 0 })).toThrow(RangeError)
  })
})
