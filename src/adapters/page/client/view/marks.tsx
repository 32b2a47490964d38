import { useMemo, useState } from 'preact/hooks'
import { bench, type BenchState, patch, resultOf } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { LinkedPlots } from './linked-plots.tsx'
import { LiveFigures } from './live-figures.tsx'
import { PhotoChoice } from './photo-choice.tsx'
import { PhotoReview } from './photo-review.tsx'
import { TypingGrid } from './typing-grid.tsx'
import { RigFields } from './rig-fields.tsx'

const knowsMotor = ({ work }: BenchState): boolean => Boolean(work?.setUp['steps-per-rev'] && work.setUp['microsteps'])

const Typing = () => {
  const any = useStore(bench, (state) => (state.work?.rows ?? []).some((row) => row[0]))
  const measured = useStore(bench, (state) => resultOf(state) !== null)
  const known = useStore(bench, knowsMotor)
  return (
    <div class="typing-page">
      <TypingGrid />
      <div class={`review-side ${known && any ? 'figures-first' : ''}`}>
        <RigFields photo={false} />
        {measured && any && (
          <div class="review-side outcome">
            <LiveFigures />
            <LinkedPlots dial={false} />
            <button type="button" class="main onward" onClick={() => goTo('verdict')}>To the verdict</button>
          </div>
        )}
      </div>
    </div>
  )
}

const Photographed = () => {
  const found = useStore(bench, (state) => state.work?.found !== null)
  const [changing, setChanging] = useState(false)
  // As it stands when the marks come: it must not close under the hand that fills it in.
  const open = useMemo(() => !found || !knowsMotor(bench.get()), [found])
  const back = (): void => {
    setChanging(false)
    document.getElementById('work')?.focus({ preventScroll: true })
    scrollTo(0, 0)
  }
  return (
    <>
      {!found || changing ? <PhotoChoice done={back} /> : <PhotoReview again={() => setChanging(true)} />}
      <details class="set-up" open={open}>
        <summary>Motor and rig</summary>
        <RigFields photo />
      </details>
    </>
  )
}

/** Marks: typed, or found in a photo and checked. */
export const Marks = () => {
  const source = useStore(bench, (state) => state.work?.source ?? 'typed')
  const tab = (value: 'photo' | 'typed', text: string) => (
    <button type="button" aria-pressed={source === value} onClick={() => patch({ source: value })}>{text}</button>
  )
  return (
    <>
      <fieldset class="two marks-from" aria-label="Where the marks come from">{tab('photo', 'From a photo')}{tab('typed', 'Typed in')}</fieldset>
      {source === 'photo' ? <Photographed /> : <Typing />}
    </>
  )
}
