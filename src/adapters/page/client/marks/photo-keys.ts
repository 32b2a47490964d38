import type { Point } from '#core/detect/raster'
import { bench, edit, redo, say, undo } from '#adapters/page/client/app/bench'
import { strokeAt } from './carry.ts'
import { drawnOn } from './drawn.ts'
import { acceptSelected, chosen, deleteSelected, freshName, selectFrame, selectMark, selectNext, selectNextDoubtful, splitSelected } from './marks-state.ts'
import { nudgeAlong } from './nudge.ts'

/** What keys can do to the view of the photo. */
export interface KeyStage {
  readonly zoom: (factor: number) => void
  readonly push: (by: Point) => void
  readonly whole: () => void
  /** Place of the photo in the middle of the screen. */
  readonly middle: () => Point
}

/** Every key of the photo with what it does; the help of the page is this list. */
export const keyHelp: readonly (readonly [keys: string, does: string])[] = [
  ['N  P', 'next or previous mark'],
  ['D', 'next mark in doubt'],
  ['Enter', 'this mark stands as it is'],
  ['← →', 'move it round the dial; with Shift ten times as far'],
  ['↑ ↓', 'move it outward or inward'],
  ['A', 'add a mark in the middle of the view, or place there the shaft or corner being told'],
  ['S', 'split it in two'],
  ['Delete', 'delete it'],
  ['C  T', 'type its command or tally'],
  ['H', 'centre, then each corner'],
  ['+  −  0', 'nearer, farther, whole photo'],
  ['Alt + arrows', 'push the photo'],
  ['Ctrl+Z  Ctrl+Y', 'undo, redo'],
]

const addInMiddle = ({ middle }: KeyStage): void => {
  const { state } = bench.get()
  const { tool, placed } = chosen.get()
  if (tool === 'centre' || tool === 'corners') {
    const next = drawnOn(placed, tool, { from: middle(), to: middle(), centre: null, reach: 0 })
    if (next) chosen.set({ placed: next })
    say(tool === 'centre' ? 'The shaft is said to be in the middle of the view.' : 'A corner was placed in the middle of the view.')
    return
  }
  if (!state) return
  const id = freshName('a')
  edit({ kind: 'add', mark: id, ...strokeAt(state, middle()) })
  selectMark(id, false)
  say('A mark was added in the middle of the view. Move it with the arrow keys.')
}

const typeInto = (id: string): void => document.getElementById(id)?.focus()

const arrows: Readonly<Record<string, readonly [along: number, outward: number]>> = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }

const moves = (stage: KeyStage, event: KeyboardEvent): boolean => {
  const arrow = arrows[event.key]
  if (!arrow) return false
  const [along, outward] = arrow
  if (event.altKey || !chosen.get().handle) stage.push([along * 60, outward * 60])
  else if (chosen.get().handle?.kind === 'mark') nudgeAlong(along * (event.shiftKey ? 5 : 0.5), outward * (event.shiftKey ? 5 : 0.5))
  else nudgeAlong(-along * (event.shiftKey ? 5 : 0.5), outward * (event.shiftKey ? 5 : 0.5))
  return true
}

const plain = (stage: KeyStage): Readonly<Record<string, () => void>> => ({
  n: () => selectNext(1),
  p: () => selectNext(-1),
  d: selectNextDoubtful,
  enter: acceptSelected,
  a: () => addInMiddle(stage),
  s: splitSelected,
  delete: deleteSelected,
  backspace: deleteSelected,
  c: () => typeInto('mark-command'),
  t: () => typeInto('mark-tally'),
  h: selectFrame,
  '+': () => stage.zoom(1.4),
  '=': () => stage.zoom(1.4),
  '-': () => stage.zoom(1 / 1.4),
  '0': stage.whole,
  escape: () => chosen.set({ handle: null, tool: 'move' }),
})

/** Keys while the photo has the focus. */
export const onPhotoKey = (stage: KeyStage, event: KeyboardEvent): void => {
  if (event.ctrlKey || event.metaKey) return
  const act = plain(stage)[event.key.toLowerCase()]
  if (!act && !moves(stage, event)) return
  event.preventDefault()
  act?.()
}

/** Undo and redo work anywhere but inside a field, which has its own. */
export const onPageKey = (event: KeyboardEvent): void => {
  if (!(event.ctrlKey || event.metaKey) || (event.target instanceof HTMLElement && event.target.matches('input, textarea, select'))) return
  const key = event.key.toLowerCase()
  if (key !== 'z' && key !== 'y') return
  event.preventDefault()
  if (key === 'y' || event.shiftKey) redo()
  else undo()
  say(key === 'y' || event.shiftKey ? 'Done again.' : 'Undone.')
}
