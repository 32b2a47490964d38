import { useEffect } from 'preact/hooks'
import { bench, redo, resultOf, undo } from '#adapters/page/client/app/bench'
import { lookAgain } from '#adapters/page/client/app/photo-labels'
import { inFields } from '#adapters/page/client/app/remedy-on-page'
import { useStore } from '#adapters/page/client/app/store'
import { goTo } from '#adapters/page/client/app/step'
import type { Reviewed } from '#core/review/reviewed'
import { DoubtPanel, Inspector } from './inspector.tsx'
import { LinkedPlots } from './linked-plots.tsx'
import { LiveFigures } from './live-figures.tsx'
import { lookOf } from '#adapters/page/client/marks/draw-marks'
import { chosen, doubtfulIds, selectedId, selectNext, selectNextDoubtful } from '#adapters/page/client/marks/marks-state'
import { keyHelp, onPageKey } from '#adapters/page/client/marks/photo-keys'
import { PhotoStage } from './photo-stage.tsx'
import { ToldOnPhoto } from './told-on-photo.tsx'
import { usePhoto } from './use-photo.ts'

const told = (state: Reviewed, id: string | null): string => {
  const index = state.marks.findIndex((mark) => mark.id === id)
  const mark = state.marks[index]
  if (!mark) return `${state.marks.length} marks. Press N for the first${doubtfulIds().length > 0 ? ', D for the first in doubt' : ''}.`
  return `Mark ${index + 1} of ${state.marks.length}, ${mark.angleDeg === null ? '' : `${mark.angleDeg.toFixed(2)} degrees, `}${lookOf(mark) === 'doubt' ? 'in doubt' : mark.origin}`
}

const Tools = () => {
  const applied = useStore(bench, (state) => state.work?.applied ?? 0)
  const ahead = useStore(bench, (state) => (state.work?.edits.length ?? 0) - (state.work?.applied ?? 0))
  const tool = useStore(chosen, (state) => state.tool)
  useStore(bench, (state) => state.outcome)
  useStore(bench, (state) => state.state)
  const strip = useStore(bench, (state) => state.state?.found.rig === 'mirror')
  const doubts = doubtfulIds().length
  const drawing = (value: 'box' | 'distance', text: string) => (
    <button type="button" aria-pressed={tool === value} onClick={() => chosen.set({ tool: tool === value ? 'move' : value })}>{text}</button>
  )
  return (
    <div class="tools" role="toolbar" aria-label="Marks">
      <button type="button" aria-pressed={tool === 'add'} onClick={() => chosen.set({ tool: tool === 'add' ? 'move' : 'add' })}>+ Mark</button>
      {drawing('box', 'Leave out…')}
      {strip && drawing('distance', 'Scale…')}
      <button type="button" onClick={selectNextDoubtful} class={doubts > 0 ? 'call' : ''}>{doubts > 0 ? `In doubt: ${doubts}` : 'None in doubt'}</button>
      <button type="button" onClick={() => selectNext(-1)} aria-label="Previous mark">‹</button>
      <button type="button" onClick={() => selectNext(1)} aria-label="Next mark">›</button>
      <span class="gap" />
      <button type="button" disabled={applied === 0} onClick={undo}>Undo{applied > 0 && <small>{applied}</small>}</button>
      <button type="button" disabled={ahead === 0} onClick={redo}>Redo</button>
    </div>
  )
}

const Help = () => (
  <details class="help">
    <summary>Keys</summary>
    <dl>{keyHelp.map(([keys, does]) => <div key={keys}><dt><kbd>{keys}</kbd></dt><dd>{does}</dd></div>)}</dl>
  </details>
)

/** Checking the marks of a photo: photo, dial, increments and figures, all of one piece. */
export const PhotoReview = ({ again }: { readonly again: () => void }) => {
  const state = useStore(bench, (bench) => bench.state)
  const id = useStore(chosen, selectedId)
  const measured = useStore(bench, (bench) => resultOf(bench) !== null)
  const tool = useStore(chosen, (state) => state.tool)
  const levels = usePhoto()
  useEffect(() => {
    addEventListener('keydown', onPageKey)
    return () => removeEventListener('keydown', onPageKey)
  }, [])
  if (!state) return null
  return (
    <div class="review">
      <div class="review-photo">
        <Tools />
        <PhotoStage levels={levels} size={{ width: state.found.widthPx, height: state.found.heightPx }} told={told(state, id)}><DoubtPanel /></PhotoStage>
        {state.found.doubts.map((doubt) => <p key={doubt} class="hint">{inFields(doubt)}</p>)}
        <button type="button" class="again" onClick={again}>{lookAgain}</button>
        <Help />
      </div>
      <div class="review-side">
        {(tool === 'box' || tool === 'distance') && <ToldOnPhoto key={tool} tool={tool} />}
        <LiveFigures />
        <LinkedPlots dial={state.found.rig === 'pointer'} />
        <Inspector />
        {measured && <button type="button" class="main onward" onClick={() => goTo('verdict')}>To the verdict</button>}
      </div>
    </div>
  )
}
