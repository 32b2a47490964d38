import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { middleOf } from '#core/review/place-mark'
import { isDoubtful, type ReviewedMark } from '#core/review/reviewed'
import { bench, edit, say } from '#adapters/page/client/app/bench'
import { createStore } from '#adapters/page/client/app/store'
import type { Handle } from './handle.ts'
import { type Drawing, nothingPlaced, type Placed } from './drawn.ts'
import { sideways } from './carry.ts'

export interface MarksState {
  readonly handle: Handle | null
  readonly hover: string | null
  /** All but the first two draw what is then told about the photo. */
  readonly tool: 'move' | 'add' | Drawing
  readonly placed: Placed
  /** Grows when a mark should be brought into view. */
  readonly bring: number
}

/** What is selected, shared by photo, dial, increments and inspector. */
export const chosen = createStore<MarksState>({ handle: null, hover: null, tool: 'move', placed: nothingPlaced, bring: 0 })

export const selectedId = ({ handle }: MarksState): string | null => (handle?.kind === 'mark' ? handle.id : null)

export const selectedMark = (): ReviewedMark | null => bench.get().state?.marks.find(({ id }) => id === selectedId(chosen.get())) ?? null

export const selectMark = (id: string | null, bring = true): void =>
  chosen.set({ handle: id === null ? null : { kind: 'mark', id, part: 'middle' }, ...(bring ? { bring: chosen.get().bring + 1 } : {}) })

/** Marks the tool was unsure of, and those whose command the marks alone do not settle. */
export const doubtfulIds = (): readonly string[] => {
  const { state, outcome } = bench.get()
  const open = new Set(outcome && !isUnmeasurable(outcome) ? outcome.assignment.doubts.map(({ line }) => line - 1) : [])
  return (state?.marks ?? []).flatMap((mark, i) => (isDoubtful(mark) || (mark.multiplicity > 1 && !mark.accepted && mark.origin === 'found') || (open.has(i) && mark.command === null) ? [mark.id] : []))
}

/** The mark so many places on, around and around. */
export const selectNext = (by: number): void => {
  const marks = bench.get().state?.marks ?? []
  const at = marks.findIndex(({ id }) => id === selectedId(chosen.get()))
  const next = marks[(at < 0 ? (by > 0 ? 0 : marks.length - 1) : at + by + marks.length) % marks.length]
  if (next) selectMark(next.id)
}

export const selectNextDoubtful = (): void => {
  const ids = doubtfulIds()
  const marks = bench.get().state?.marks ?? []
  if (ids.length === 0) say('No mark is in doubt.')
  if (ids.length === 0) return
  const order = marks.map(({ id }) => id)
  const now = order.indexOf(selectedId(chosen.get()) ?? '')
  const next = ids.find((id) => order.indexOf(id) > now) ?? ids[0]
  selectMark(next ?? null)
}

/** Every handle in turn: centre, corners, then back to the marks. */
export const selectFrame = (): void => {
  const { state } = bench.get()
  const all: Handle[] = [...(state?.centrePx ? [{ kind: 'centre' } as const] : []), ...(state?.cornersPx ?? []).map((_, index) => ({ kind: 'corner', index }) as const)]
  const { handle } = chosen.get()
  const at = handle ? all.findIndex((each) => JSON.stringify(each) === JSON.stringify(handle)) : -1
  chosen.set({ handle: all[(at + 1) % Math.max(1, all.length)] ?? null, bring: chosen.get().bring + 1 })
}

export const deleteSelected = (): void => {
  const mark = selectedMark()
  if (!mark) return
  selectNext(1)
  edit({ kind: 'delete', mark: mark.id })
  say('Mark deleted. Undo brings it back.')
}

export const acceptSelected = (): void => {
  const mark = selectedMark()
  if (!mark || mark.accepted) return
  edit({ kind: 'accept', mark: mark.id })
  say('This mark stands.')
}

/** A name no mark of this test has had. */
export const freshName = (letter: string): string => `${letter}${bench.get().work?.applied ?? 0}-${Date.now().toString(36)}`

/** One wide stroke that is really two: each a third of its width to a side. */
export const splitSelected = (): void => {
  const mark = selectedMark()
  const { state } = bench.get()
  if (!mark || !state) return
  const [sx, sy] = sideways(state, middleOf(mark))
  const by = Math.max(1.5, mark.widthPx / 3)
  const moved = (s: number) => ({ p0: [mark.p0[0] + s * by * sx, mark.p0[1] + s * by * sy], p1: [mark.p1[0] + s * by * sx, mark.p1[1] + s * by * sy] }) as const
  const name = freshName('s')
  edit({ kind: 'split', mark: mark.id, into: [moved(-1), moved(1)], named: [`${name}a`, `${name}b`] })
  selectMark(`${name}a`, false)
  say('Split in two. Move the halves where they belong.')
}

export const labelSelected = (label: { readonly command: number | null; readonly tally: number | null }): void => {
  const mark = selectedMark()
  if (mark && (mark.command !== label.command || mark.tally !== label.tally)) edit({ kind: 'label', mark: mark.id, ...label })
}
