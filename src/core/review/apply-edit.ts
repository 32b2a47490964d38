import { addedMark, byHand, placed } from './place-mark.ts'
import { planeFromCorners } from './plane-of.ts'
import { asFound, type Reviewed, type ReviewedMark } from './reviewed.ts'
import type { Edit, Work } from './work.ts'

const sorted = (marks: readonly ReviewedMark[]): readonly ReviewedMark[] =>
  marks.toSorted((a, b) => (a.angleDeg ?? a.positionPx ?? 0) - (b.angleDeg ?? b.positionPx ?? 0))

const changed = (state: Reviewed, id: string, change: (mark: ReviewedMark) => ReviewedMark): Reviewed => {
  const at = state.marks.findIndex((mark) => mark.id === id)
  const mark = state.marks[at]
  return mark ? { ...state, marks: state.marks.with(at, change(mark)) } : state
}

/** All marks seen from another centre or through another map. */
const reframed = (state: Reviewed, frame: Partial<Pick<Reviewed, 'plane' | 'centrePx' | 'cornersPx'>>): Reviewed => {
  const after = { ...state, ...frame }
  return { ...after, marks: state.marks.map((mark) => placed(mark, mark, state, after)) }
}

const split = (state: Reviewed, edit: Edit & { readonly kind: 'split' }): Reviewed => {
  const mark = state.marks.find(({ id }) => id === edit.mark)
  if (!mark) return state
  const halves = edit.into.map((stroke, i): ReviewedMark => ({
    ...byHand(placed({ ...mark, multiplicity: 1 }, stroke, state, state), state),
    id: edit.named[i] as string,
    command: null,
    tally: null,
  }))
  return { ...state, marks: sorted([...state.marks.filter(({ id }) => id !== edit.mark), ...halves]) }
}

/** One edit more. An edit about a mark that is no longer there changes nothing. */
export const applyEdit = (state: Reviewed, edit: Edit): Reviewed => {
  switch (edit.kind) {
    case 'move':
      return changed(state, edit.mark, (mark) => byHand(placed(mark, edit, state, state), state))
    case 'add':
      return { ...state, marks: sorted([...state.marks, addedMark(edit.mark, edit, state)]) }
    case 'delete':
      return { ...state, marks: state.marks.filter(({ id }) => id !== edit.mark) }
    case 'split':
      return split(state, edit)
    case 'label':
      return changed(state, edit.mark, (mark) => ({ ...mark, command: edit.command, tally: edit.tally }))
    case 'accept':
      return changed(state, edit.mark, (mark) => ({ ...mark, accepted: true }))
    case 'centre':
      return { ...reframed(state, { centrePx: edit.to }), centreMoved: true }
    case 'corners':
      return reframed(state, { cornersPx: edit.to, plane: planeFromCorners(edit.to, state.found) ?? state.plane })
  }
}

/** The marks after the edits that hold; null when no photo has been read. */
export const reviewedOf = ({ found, edits, applied }: Pick<Work, 'found' | 'edits' | 'applied'>): Reviewed | null =>
  found && edits.slice(0, applied).reduce(applyEdit, asFound(found))
