import { sidewaysBoundMm } from './bound.ts'
import { type Camera, pixelsPerMm, project } from './camera.ts'
import { groupMarks } from './groups.ts'
import { findInk, type InkCentre } from './ink-centre.ts'
import type { Mm } from './ink-sheet.ts'
import { lightAt } from './light.ts'
import { bearingOf, type Hand, type PlannedMark } from './mark.ts'
import type { Scene } from './scene.ts'
import type { Sensor } from './sensor.ts'
import type { TrueGroup, TrueMark } from './truth.ts'

/** Share of a point that something lying on the sheet covers. */
const hidesAt = (scene: Scene): ((x: number, y: number) => number) => {
  const over = new Float64Array(3)
  const covers = scene.layers.filter((layer) => layer.hides)
  return (x, y) => covers.reduce((most, layer) => Math.max(most, layer.paint(x, y, over)), 0)
}

export interface MarksTruth {
  readonly marks: readonly TrueMark[]
  readonly groups: readonly TrueGroup[]
  readonly distinct: readonly [min: number, max: number]
}

const boundOf = (scene: Scene, sensor: Sensor, hand: Hand, ink: InkCentre): number => {
  const [x, y] = ink.centroidMm
  const [a, b] = ink.endsMm
  return sidewaysBoundMm({
    ink: hand.ink,
    density: hand.density,
    widthMm: hand.widthMm,
    lengthMm: Math.hypot(b[0] - a[0], b[1] - a[1]) * Math.max(0.05, ink.visible),
    pixelsPerMm: pixelsPerMm(scene.camera, ink.centroidMm),
    paperLevel: (scene.paper.colour[1] ?? 0.8) * lightAt(scene.light, x, y),
    sensor,
  })
}

const boundsByLook = (scene: Scene, sensor: Sensor, hand: Hand, inkOf: readonly InkCentre[]): readonly number[] =>
  inkOf.map((ink) => boundOf(scene, sensor, hand, ink))

const trueMark = (camera: Camera, centre: Mm | null, ink: InkCentre, planned: PlannedMark): Omit<TrueMark, 'bound' | 'group' | 'commandedMm' | 'drawnMm'> => {
  const scale = pixelsPerMm(camera, ink.centroidMm)
  const ahead: Mm = [ink.axis[0], ink.axis[1]]
  return {
    commands: planned.commands,
    commandedDeg: centre === null ? null : planned.bearingDeg - 360 * Math.floor(planned.bearingDeg / 360),
    drawnDeg: centre === null ? null : bearingOf(centre, ink.centroidMm),
    axisDeg: centre === null ? null : bearingOf([0, 0], ahead),
    endsMm: ink.endsMm,
    endsPx: [project(camera, ink.endsMm[0]), project(camera, ink.endsMm[1])],
    centroidPx: project(camera, ink.centroidMm),
    widthMm: ink.widthMm,
    widthPx: ink.widthMm * scale,
    visible: ink.visible,
  }
}

/**
 * Truth of a pointer trace. Mark i is stroke i of the ink sheet; planned marks come in the order of travel, so neighbours
 * in the list are neighbours on the dial.
 */
export const tellPointerMarks = (scene: Scene, sensor: Sensor, work: { readonly centreMm: Mm; readonly marks: readonly PlannedMark[]; readonly hand: Hand; readonly fullTurn: boolean }): MarksTruth => {
  const hides = hidesAt(scene)
  const inkOf = work.marks.map((_, i) => findInk(scene.ink, i, hides))
  const bounds = boundsByLook(scene, sensor, work.hand, inkOf)
  const drawn = work.marks.map((mark, i) => trueMark(scene.camera, work.centreMm, inkOf[i] as InkCentre, mark))
  const gaps = drawn.map((mark, i) => {
    const other = drawn[(i + 1) % drawn.length] ?? mark
    const apart = ((((other.drawnDeg ?? 0) - (mark.drawnDeg ?? 0) + 540) % 360) + 360) % 360 - 180
    return (Math.abs(apart) * Math.PI * reach(inkOf[i], work.centreMm)) / 180 / work.hand.widthMm
  })
  const groups = groupMarks(drawn.length, gaps, work.fullTurn)
  return finish(drawn.map((mark, i) => {
    const radius = reach(inkOf[i], work.centreMm)
    return { ...mark, commandedMm: null, drawnMm: null, bound: ((bounds[i] ?? 0) / radius) * (180 / Math.PI) }
  }), groups)
}

/** Truth of a strip: positions along the line, mm from its zero, in the paper's own x direction. */
export const tellStripMarks = (scene: Scene, sensor: Sensor, work: { readonly zeroMm: Mm; readonly spotsMm: readonly number[]; readonly marks: readonly PlannedMark[]; readonly hand: Hand }): MarksTruth => {
  const hides = hidesAt(scene)
  const inkOf = work.marks.map((_, i) => findInk(scene.ink, i, hides))
  const bounds = boundsByLook(scene, sensor, work.hand, inkOf)
  const at = inkOf.map((ink) => ink.centroidMm[0] - work.zeroMm[0])
  const gaps = at.slice(1).map((x, i) => Math.abs(x - (at[i] ?? x)) / work.hand.widthMm)
  const marks = work.marks.map((mark, i) => ({
    ...trueMark(scene.camera, null, inkOf[i] as InkCentre, mark),
    commandedMm: work.spotsMm[i] ?? null,
    drawnMm: at[i] ?? null,
    bound: bounds[i] ?? 0,
  }))
  return finish(marks, groupMarks(marks.length, gaps, false))
}

const reach = (ink: InkCentre | undefined, centre: Mm): number =>
  ink === undefined ? 1 : Math.hypot(ink.centroidMm[0] - centre[0], ink.centroidMm[1] - centre[1])

/** Numbers the marks by group and counts; marks that are hidden for the most part need not be counted. */
export const finish = (marks: readonly Omit<TrueMark, 'group'>[], groups: readonly TrueGroup[]): MarksTruth => {
  const groupOf = new Map(groups.flatMap((g, index) => g.marks.map((m) => [m, index] as const)))
  const seen = (g: TrueGroup): number => g.marks.filter((m) => (marks[m]?.visible ?? 0) >= 0.35).length
  const clear = (g: TrueGroup): number => g.marks.filter((m) => (marks[m]?.visible ?? 0) >= 0.8).length
  const min = groups.reduce((s, g) => s + Math.min(g.distinct[0], clear(g)), 0)
  const max = groups.reduce((s, g) => s + Math.min(g.distinct[1], seen(g)), 0)
  return { marks: marks.map((m, i) => ({ ...m, group: groupOf.get(i) ?? -1 })), groups, distinct: [min, max] }
}
