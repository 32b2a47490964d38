import { describe, expect, it } from 'vitest'
import { layoutSheet, type SheetDesign } from '#core/prepare/sheet/layout'
import type { SheetPayload } from '#core/detect/sheet/payload'
import { sheetVersion } from '#core/detect/sheet/sheet-version'
import { type Box, boxAbout, boxClears, boxesMeet, pointerMm, type Zone } from '#core/detect/sheet/zone'
import { pageWords } from '#core/prepare/sheet/page-words'
import { collisions, crossedByArcs, grown, type InkBox, inkBoxes, outside, type PrintedPage, sheetFont } from './ink-boxes.ts'

const papers = ['a4', 'letter'] as const
// Every number ring there is begins or ends at one of these; 85 to 94 mm is where a ring just fills US Letter.
const lengths = [...Array.from({ length: 45 }, (_, n) => pointerMm.shortest + 5 * n), 74, 84, 86, 87, 88, 89, 91, 92, 93, 94, 104, 114, 124, 320, 400]
const stripsMm = [50, 250, 300, 500, 777, 900, 1500, 3000]
const designs: readonly SheetDesign[] = papers.flatMap((paper) => [
  ...lengths.map((lengthMm): SheetDesign => ({ rig: 'pointer', paper, lengthMm, shaftHoleMm: 8 })),
  ...stripsMm.map((stripMm): SheetDesign => ({ rig: 'mirror', paper, stripMm })),
])

const setUp = { version: sheetVersion, stepsPerRev: 200, microsteps: 16, barMm: 99.25, motor: 'rail-2: pump motor from the laboratory, the larger' } as const

interface NamedPage extends PrintedPage {
  readonly name: string
}

const printed = (design: SheetDesign): { readonly zone: Zone; readonly pages: readonly NamedPage[] } => {
  const { pages, zone } = layoutSheet(design)
  const lengthMm = design.rig === 'pointer' ? design.lengthMm : design.stripMm
  const named = pages.map((page, index): NamedPage => {
    const payload: SheetPayload = { ...setUp, rig: design.rig, paper: design.paper, page: index, pages: pages.length, lengthMm }
    return { name: `${design.rig} ${lengthMm} mm, ${design.paper}, page ${page.place.column} ${page.place.row}`, page, shapes: [...page.shapes, ...pageWords(page, payload)] }
  })
  return { zone, pages: named }
}

const font = await sheetFont()
const booklets = designs.map(printed)
const sheets = booklets.flatMap(({ pages }) => pages).map((drawn) => ({ ...drawn, inks: inkBoxes(drawn, font) }))

const troubles = (find: (sheet: (typeof sheets)[number]) => readonly string[]): readonly string[] =>
  sheets.flatMap((sheet) => find(sheet).map((trouble) => `${sheet.name}: ${trouble}`))

describe('what a sheet prints', () => {
  it('lies clear of everything else on the page, whatever the pointer or the strip', () => {
    expect(troubles(({ inks }) => collisions(inks, 0.2))).toEqual([])
  })

  it('leaves the code three millimetres of bare paper', () => {
    const near = ({ inks }: (typeof sheets)[number]): readonly string[] => {
      const code = inks.find(({ what }) => what === 'code')
      return inks.filter((ink) => code && ink !== code && boxesMeet(grown(code.box, 3), ink.box)).map(({ what }) => what)
    }
    expect(troubles(near)).toEqual([])
  })

  it('is crossed by no arc and no number ring', () => {
    expect(troubles((sheet) => crossedByArcs(sheet, sheet.inks))).toEqual([])
  })

  it('keeps 5 mm from the paper’s edge, where many printers cannot print (common practice, no source)', () => {
    expect(troubles(({ page, inks }) => outside(inks, grown(page.sheet, -5)))).toEqual([])
  })

  it('has no target, code, bar or tick in the trim', () => {
    const kept = new Set(['code', 'scale-bar', 'tick', 'shaft'])
    const inCell = ({ group, words }: InkBox) => !words && (kept.has(group) || group.startsWith('target'))
    // A tick on the cell's very edge is half its width beyond it.
    expect(troubles(({ page, inks }) => outside(inks.filter(inCell), grown(page.cell, 0.1)))).toEqual([])
  })
})

describe('cut marks', () => {
  type Side = 'left' | 'right' | 'top' | 'bottom'

  const onSide = ({ page, shapes }: PrintedPage, side: Side): number => {
    const axis = side === 'left' || side === 'right' ? 0 : 1
    return shapes.filter((shape) => shape.kind === 'line' && shape.role === 'join' && shape.from[axis] === page.cell[side] && shape.to[axis] === page.cell[side]).length
  }

  /** Whether a cross at an end of a side stays out of the ring. */
  const hasRoom = (zone: Zone, { left, right, top, bottom }: Box, side: Side): boolean => {
    const ends = { left: [left, top], right: [right, top], top: [left, top], bottom: [left, bottom] } as const
    return zone.kind === 'band' || boxClears(zone, boxAbout(ends[side], 6, 6))
  }

  const sidesOf = ({ page: { place } }: PrintedPage, pages: readonly PrintedPage[]) => {
    const isPage = (dx: number, dy: number) => pages.some(({ page }) => page.place.column === place.column + dx && page.place.row === place.row + dy)
    return [['left', isPage(-1, 0)], ['right', isPage(1, 0)], ['top', isPage(0, -1)], ['bottom', isPage(0, 1)]] as const
  }

  it('run along the sides that have a neighbour and no others', () => {
    const wrong = booklets.flatMap(({ zone, pages }) =>
      pages.flatMap((drawn) =>
        sidesOf(drawn, pages).filter(([side, neighbour]) => {
          const lines = onSide(drawn, side)
          // A cross on a corner has one line on each of the two sides there; in the ring that marks go to nothing is printed.
          return neighbour ? lines === 0 && hasRoom(zone, drawn.page.cell, side) : lines > 2
        }).map(([side]) => `${drawn.name}: ${side}`),
      ),
    )
    expect(wrong).toEqual([])
  })

  it('cut through no number of a strip', () => {
    for (const { pages } of booklets.filter(({ zone }) => zone.kind === 'band')) {
      for (const drawn of pages) {
        const [left, right] = sidesOf(drawn, pages)
        const { cell, sheet } = drawn.page
        const whole = { ...cell, left: left[1] ? cell.left : sheet.left, right: right[1] ? cell.right : sheet.right }
        expect(outside(inkBoxes(drawn, font).filter(({ group, words }) => group === 'tick' && words), whole)).toEqual([])
      }
    }
  })
})
