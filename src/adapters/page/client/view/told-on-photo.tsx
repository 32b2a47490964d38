import { useRef, useState } from 'preact/hooks'
import { bench, theBackend } from '#adapters/page/client/app/bench'
import { lookForMarks } from '#adapters/page/client/app/look-for-marks'
import { useStore } from '#adapters/page/client/app/store'
import { boxOf, drawnText, readDrawn } from '#adapters/page/client/marks/drawn'
import { chosen } from '#adapters/page/client/marks/marks-state'
import type { Hints } from '#core/detect/detection'
import { readNumber } from '#core/quantity/read-number'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { LongWork } from './long-work.tsx'
import { NumberField } from './number-field.tsx'
import { Wrong } from './wrong.tsx'

type Drawing = 'box' | 'distance'

const words = {
  box: { title: 'Leave a region out', how: 'Draw a box over what is no mark: a ruler’s numbers, a tool, writing.', typed: 'Box: left, top, width, height', again: 'Look again without it' },
  distance: { title: 'Two places a known distance apart', how: 'Draw from one place to another along the marks, such as two ticks of a ruler.', typed: 'From x, y to x, y', again: 'Look again with it' },
} as const satisfies Readonly<Record<Drawing, unknown>>

/** What was told so far and the drawing; null while something is missing. */
const hintsWith = (tool: Drawing, mm: string): Hints | null => {
  const before = bench.get().work?.hints ?? {}
  const { drawn } = chosen.get()
  if (!drawn) return null
  if (tool === 'box') return { ...before, ignorePx: [...(before.ignorePx ?? []), boxOf(drawn)] }
  const apart = readNumber(mm)
  return apart !== null && apart > 0 ? { ...before, scalePx: { ...drawn, mm: apart } } : null
}

const forgetting = ({ ignorePx: _, scalePx: __, ...rest }: Hints): Hints => rest

const close = (): void => chosen.set({ tool: 'move', drawn: null })

/** Telling something about the photo by drawing on it; then the marks are looked for again. */
export const ToldOnPhoto = ({ tool }: { readonly tool: Drawing }) => {
  const drawn = useStore(chosen, (state) => state.drawn)
  const told = useStore(bench, (state) => state.work?.hints ?? {})
  const edits = useStore(bench, (state) => state.work?.applied ?? 0)
  const [mm, setMm] = useState('')
  const [step, setStep] = useState('')
  const [wrong, setWrong] = useState<Unmeasurable | null>(null)
  const stop = useRef<AbortController | null>(null)
  const { title, how, typed, again } = words[tool]
  const ready = hintsWith(tool, mm) !== null

  const look = async (hints: Hints | null): Promise<void> => {
    const photo = hints && (await theBackend().photo(bench.get().id ?? ''))
    if (!photo) return
    stop.current = new AbortController()
    setWrong(null)
    setWrong(await lookForMarks(photo, hints, { stop: stop.current.signal, step: setStep }))
    setStep('')
  }

  if (step) return <section class="card" aria-label={title}><LongWork step={step} stop={() => { stop.current?.abort(); setStep('') }} /></section>
  return (
    <section class="card told-on-photo" aria-label={title}>
      <p class="told">{title}</p>
      <p class="hint">{how} {edits > 0 && 'What you changed by hand is set aside: the marks are looked for anew.'}</p>
      <div class="pair">
        <label class="field small"><span>{typed}</span><input key={drawn ? drawnText[tool](drawn) : ''} defaultValue={drawn ? drawnText[tool](drawn) : ''} onChange={({ currentTarget }) => chosen.set({ drawn: readDrawn[tool](currentTarget.value) })} /><small>px of the photo; drawing fills it in</small></label>
        {tool === 'distance' && <NumberField label="How far apart they are" unit="mm" value={mm} set={setMm} />}
      </div>
      {wrong && <Wrong why={wrong} />}
      <div class="buttons">
        <button type="button" class="main" disabled={!ready} onClick={() => void look(hintsWith(tool, mm))}>{again}</button>
        {(told.ignorePx?.length || told.scalePx) && <button type="button" onClick={() => void look(forgetting(told))}>Forget what was drawn</button>}
        <button type="button" onClick={close}>Cancel</button>
      </div>
    </section>
  )
}
