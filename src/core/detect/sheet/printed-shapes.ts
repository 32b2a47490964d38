import { codeMm } from './blocks.ts'
import { layoutSheet, type SheetDesign } from './layout.ts'
import { cellMm } from './paper.ts'
import { sheetVersion } from './payload.ts'
import type { Shape } from './shape.ts'
import type { SheetFix } from './sheet-fix.ts'
import { stripTicks } from './strip-ticks.ts'
import { targetMm, targetShapes } from './target-shapes.ts'
import { arcStepMm, boxAbout, pointerMm } from './zone.ts'
import { arcStroke } from './arcs.ts'
import { pageMiddle } from './target-places.ts'

const designOf = (fix: SheetFix): SheetDesign | null => {
  if (fix.rig === 'mirror') {
    const columns = Math.max(...fix.pages.map(({ column }) => column)) + 1
    return { rig: 'mirror', paper: fix.paper, version: fix.payload?.version ?? sheetVersion, stripMm: Math.floor(columns * cellMm('mirror', fix.paper).width) }
  }
  const { payload } = fix
  if (payload === null || payload.lengthMm < pointerMm.shortest || payload.lengthMm > pointerMm.longest) return null
  return { rig: 'pointer', paper: fix.paper, version: payload.version, lengthMm: payload.lengthMm, shaftHoleMm: 8 }
}

/** Whatever the pointer's length: arcs lie at whole multiples of one radius. */
const everyArc: readonly Shape[] = Array.from({ length: Math.ceil(pointerMm.longest / arcStepMm) + 2 }, (_, n) => ({
  kind: 'arc',
  role: 'radius-arc',
  centre: [0, 0],
  radius: (n + 1) * arcStepMm,
  fromDeg: 0,
  toDeg: 360,
  ...arcStroke,
}))

const ticksInView = (fix: SheetFix): readonly Shape[] => {
  if (fix.rig === 'pointer') return everyArc
  const { width, height } = cellMm('mirror', fix.paper)
  return fix.pages.flatMap(({ column, row }) => {
    const cell = boxAbout(pageMiddle({ rig: 'mirror', paper: fix.paper, column, row }), width, height)
    return stripTicks(cell, cell.right)
  })
}

/** Radius about a target's centre that no mark can be seen within, mm. */
export const targetReachMm = targetMm.outer + targetMm.quiet

/**
 * What is known to be printed on the sheet in view, sheet mm: never a mark, whatever it looks like. With the code read
 * everything but words; without it the targets that were found, and the arcs or ticks that every such sheet has.
 */
export const printedShapes = (fix: SheetFix): readonly Shape[] => {
  const design = fix.payload ? designOf(fix) : null
  if (design === null) return [...ticksInView(fix), ...fix.targets.flatMap(({ id, mm }) => targetShapes(id, mm))]
  const inView = new Set(fix.pages.map(({ column, row }) => `${column} ${row}`))
  return layoutSheet(design)
    .pages.filter(({ place }) => inView.has(`${place.column} ${place.row}`))
    .flatMap(({ shapes, code }): readonly Shape[] => {
      if (!code) return shapes
      const [x, y] = [code[0] - codeMm / 2, code[1] - codeMm / 2]
      return [...shapes, { kind: 'rect', role: 'code', x, y, width: codeMm, height: codeMm, tone: 0 }]
    })
}
