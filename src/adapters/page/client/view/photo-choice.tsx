import { useEffect, useRef, useState } from 'preact/hooks'
import { bench, say, theBackend } from '#adapters/page/client/app/bench'
import { drawnIn, hintsOfKnown, type Known, knownBefore } from '#adapters/page/client/app/known'
import { lookForMarks } from '#adapters/page/client/app/look-for-marks'
import { useStore } from '#adapters/page/client/app/store'
import { hintsWith, placedBefore, placedOnly } from '#adapters/page/client/marks/drawn'
import { chosen } from '#adapters/page/client/marks/marks-state'
import type { Hints } from '#core/detect/detection'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { KnownFields } from './known-fields.tsx'
import { LongWork } from './long-work.tsx'
import { PhotoStage } from './photo-stage.tsx'
import { ToldFields } from './told-fields.tsx'
import { usePhoto } from './use-photo.ts'
import { Wrong } from './wrong.tsx'

type Photo = Blob & { readonly name?: string }

const round = ['centre', 'ring', 'corners', 'box'] as const
const inARow = ['corners', 'box', 'distance'] as const

/** The photo as it was kept, with what was read in it, if anything. */
const KeptPhoto = () => {
  const levels = usePhoto()
  const count = useStore(bench, (state) => state.state?.marks.length ?? 0)
  const found = useStore(bench, (state) => state.work?.found ?? null)
  const size = levels ?? (found && { width: found.widthPx, height: found.heightPx })
  if (!size) return null
  return <div class="review-photo"><PhotoStage levels={levels} size={size} told={count === 0 ? 'No marks were read in it yet. What you tell about it is drawn here, or typed beside it.' : `${count} marks. What you tell about the photo is drawn here, or typed beside it.`} /></div>
}

/** Choosing a photo, and telling what is known about it before its marks are looked for, or looked for again. */
export const PhotoChoice = ({ done }: { readonly done: () => void }) => {
  const [known, setKnown] = useState<Known>(() => knownBefore(bench.get().work?.hints ?? {}, bench.get().work?.found))
  const [apart, setApart] = useState('')
  const [step, setStep] = useState('')
  const [wrong, setWrong] = useState<Unmeasurable | null>(null)
  const stop = useRef<AbortController | null>(null)
  const alert = useRef<HTMLDivElement>(null)
  const kept = useStore(bench, (state) => state.work?.photo?.sha256 ?? '')
  const found = useStore(bench, (state) => state.work?.found !== null)
  const before = useStore(bench, (state) => drawnIn(state.work?.hints ?? {}))
  useEffect(() => {
    // What opened it has gone from the page, and the focus with it.
    if (found) document.getElementById('work')?.focus({ preventScroll: true })
    if (kept && found) alert.current?.scrollIntoView({ block: 'start' })
    return () => chosen.set({ tool: 'move' })
  }, [])
  useEffect(() => { if (wrong) alert.current?.scrollIntoView({ block: 'nearest' }) }, [wrong])

  const go = async (photo: Photo | null, drawn: Hints): Promise<void> => {
    if (!photo) return
    stop.current = new AbortController()
    setWrong(null)
    const hints = { ...drawn, ...hintsOfKnown(known) }
    const refused = await lookForMarks(photo, hints, { stop: stop.current.signal, step: setStep })
    setStep('')
    setWrong(refused)
    // What has been told by now is no longer only drawn.
    if (bench.get().work?.hints === hints) {
      chosen.set({ placed: placedBefore(hints) })
      setApart('')
    }
    if (!refused && !stop.current.signal.aborted) done()
  }
  const drawings = known.rig === 'mirror' ? inARow : round
  const again = async (drawn: Hints): Promise<void> => go(await theBackend().photo(bench.get().id ?? ''), drawn)
  const choose = <label class={kept ? 'file' : 'main file'}>Choose a photo<input type="file" accept="image/jpeg,image/png,image/webp,image/avif" onChange={({ currentTarget }) => void go(currentTarget.files?.[0] ?? null, {})} /></label>

  return (
    <>
      <div ref={alert} class="telling-begins">{wrong && <Wrong why={wrong} />}</div>
      <div class={kept ? 'review telling' : ''}>
        {kept && <KeptPhoto key={kept} />}
        <section class="card" aria-label="Photo">
          {!kept && (step ? null : <div class="buttons">{choose}</div>)}
          {!kept && <p class="hint">The whole sheet in the picture, held square above it, in even light. JPEG, PNG or WebP.</p>}
          <p class="told">What you know about it; leave what you do not.</p>
          {kept && <ToldFields key={kept} drawings={drawings} apart={apart} setApart={setApart} />}
          <KnownFields known={known} set={setKnown} />
          {step && <LongWork step={step} stop={() => { stop.current?.abort(); setStep(''); say('Stopped.') }} />}
          {kept && !step && (
            <div class="buttons">
              <button type="button" class="main" onClick={() => void again(hintsWith(before, placedOnly(chosen.get().placed, drawings), apart))}>Look for marks again</button>
              {Object.keys(before).length > 0 && <button type="button" onClick={() => void again({})}>Forget all that was drawn</button>}
              {choose}
              {found && <button type="button" onClick={done}>Back to the marks</button>}
            </div>
          )}
        </section>
      </div>
    </>
  )
}
