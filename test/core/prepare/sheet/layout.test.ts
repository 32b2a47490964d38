import { describe, expect, it } from 'vitest'
import { layoutSheet, type SheetDesign, type SheetPage } from '#core/prepare/sheet/layout'
import { targetMm } from '#core/detect/sheet/target-places'

const papers = ['a4', 'letter'] as const
const pointers: readonly SheetDesign[] = papers.flatMap((paper) =>
  [40, 55, 80, 84, 90, 120, 150, 200, 300, 400].map((lengthMm): SheetDesign => ({ rig: 'pointer', paper, lengthMm, shaftHoleMm: 8 })),
)
const strips: readonly SheetDesign[] = papers.map((paper): SheetDesign => ({ rig: 'mirror', paper, stripMm: 900 }))

const inkReach = ({ targets }: SheetPage): readonly number[] => targets.map(({ centre }) => Math.hypot(...centre))

describe('sheet layout', () => {
  it('has at least eight targets on every page, all inside the page less a printer’s margin of 6.35 mm (common practice, no source)', () => {
    for (const design of [...pointers, ...strips]) {
      for (const { targets, sheet } of layoutSheet(design).pages) {
        expect(targets.length).toBeGreaterThanOrEqual(8)
        for (const { centre: [x, y] } of targets) {
          const edge = Math.min(x - sheet.left, sheet.right - x, y - sheet.top, sheet.bottom - y) - targetMm.outer
          expect(edge).toBeGreaterThan(6.35)
        }
      }
    }
  })

  it('keeps targets out of the zone that marks go to', () => {
    for (const design of pointers) {
      const { zone, pages } = layoutSheet(design)
      if (zone.kind !== 'ring') throw new Error('a pointer’s zone is a ring')
      for (const reach of pages.flatMap(inkReach)) {
        expect(reach - targetMm.outer > zone.outer || reach + targetMm.outer < zone.inner).toBe(true)
      }
    }
    for (const { targets } of strips.flatMap((design) => layoutSheet(design).pages)) {
      for (const { centre } of targets) expect(Math.abs(centre[1])).toBeGreaterThan(20 + targetMm.outer)
    }
  })

  it('prints nothing in the marking zone but arcs about the shaft', () => {
    for (const design of pointers) {
      const { zone, pages } = layoutSheet(design)
      if (zone.kind !== 'ring') continue
      const strays = pages.flatMap(({ shapes }) => shapes).filter((shape) => {
        if (shape.kind !== 'line') return false
        const [[x0, y0], [x1, y1]] = [shape.from, shape.to]
        return [0, 0.5, 1].some((part) => {
          const reach = Math.hypot(x0 + part * (x1 - x0), y0 + part * (y1 - y0))
          return reach < zone.outer && reach > zone.inner
        })
      })
      expect(strays).toEqual([])
    }
  })

  it('fits a pointer of 80 mm on one page with a code and scale bars, and tiles longer ones', () => {
    for (const paper of papers) {
      const [page, ...more] = layoutSheet({ rig: 'pointer', paper, lengthMm: 80, shaftHoleMm: 8 }).pages
      expect(more).toEqual([])
      expect(page?.code).not.toBeNull()
      expect(page?.shapes.some(({ role }) => role === 'scale-bar')).toBe(true)
      expect(layoutSheet({ rig: 'pointer', paper, lengthMm: 150, shaftHoleMm: 8 }).pages.length).toBeGreaterThan(1)
    }
  })

  it('refuses what no sheet can be made for', () => {
    expect(() => layoutSheet({ rig: 'pointer', paper: 'a4', lengthMm: 39, shaftHoleMm: 8 })).toThrow(RangeError)
    expect(() => layoutSheet({ rig: 'mirror', paper: 'a4', stripMm: 9000 })).toThrow(RangeError)
  })
})
