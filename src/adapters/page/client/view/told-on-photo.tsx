import { useRef, useState } from 'preact/hooks'
import { bench, theBackend } from '#adapters/page/client/app/bench'
import { lookForMarks } from '#adapters/page/client/app/look-for-marks'
import { useStore } from '#adapters/page/client/app/store'
import { hintsWith } from '#adapters/page/client/marks/drawn'
import { chosen } from '#adapters/page/client/marks/marks-state'
import type { Hints } from '#core/detect/detection'
import { readNumber } from '#core/quantity/read-number'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { LongWork } from './long-work.tsx'
import { ToldFields } from './told-fields.tsx'
import { Wrong } from './wrong.tsx'

const words = {
  box: { title: 'Leave a region out', again: 'Look again without it' },
  distance: { title: 'Two places a known distance apart', again: 'Look again with it' },
} as const

/** What was told without what this tool drew. */
const forgetting = { box: ({ ignorePx: _, ...rest }: Hints): Hints => rest, distance: ({ scalePx: _, ...rest }: Hints): Hints => rest } as const

/** Telling one thing about the photo beside its marks; then they are looked for again. */
export const ToldOnPhoto = ({ tool }: { readonly tool: keyof typeof words }) => {
  const placed = useStore(chosen, (state) => state.placed)
  const told = useStore(bench, (state) => state.work?.hints ?? {})
  const edits = useStore(bench, (state) => state.work?.applied ?? 0)
  const [apart, setApart] = useState('')
  const [step, setStep] = useState('')
  const [wrong, setWrong] = useState<Unmeasurable | null>(null)
  const stop = useRef<AbortController | null>(null)
  const { title, again } = words[tool]
  const ready = placed[tool] !== null && (tool === 'box' || Number(readNumber(apart)) > 0)

  const look = async (hints: Hints): Promise<void> => {
    const photo = await theBackend().photo(bench.get().id ?? '')
    if (!photo) return
    stop.current = new AbortController()
    setWrong(null)
    setWrong(await lookForMarks(photo, hints, { stop: stop.current.signal, step: setStep }))
    setStep('')
  }

  return (
    <section class="card told-on-photo" aria-label={title}>
      {step && <LongWork step={step} stop={() => { stop.current?.abort(); setStep('') }} />}
      <div hidden={step !== ''}>
        <p class="told">{title}</p>
        {edits > 0 && <p class="hint">What you changed by hand is set aside: the marks are looked for anew.</p>}
        <ToldFields drawings={[tool]} apart={apart} setApart={setApart} />
        {wrong && <Wrong why={wrong} />}
        <div class="buttons">
          <button type="button" class="main" disabled={!ready} onClick={() => void look(hintsWith(told, placed, apart))}>{again}</button>
          {(tool === 'box' ? told.ignorePx?.length : told.scalePx) && <button type="button" onClick={() => void look(forgetting[tool](told))}>Forget what was drawn</button>}
          <button type="button" onClick={() => chosen.set({ tool: 'move' })}>Cancel</button>
        </div>
      </div>
    </section>
  )
}
