import { useRef, useState } from 'preact/hooks'
import { bench, say, theBackend } from '#adapters/page/client/app/bench'
import { lookForMarks } from '#adapters/page/client/app/look-for-marks'
import { useStore } from '#adapters/page/client/app/store'
import { LongWork } from './long-work.tsx'
import { Wrong } from './wrong.tsx'
import type { Hints } from '#core/detect/detection'
import { readNumber } from '#core/quantity/read-number'
import type { Unmeasurable } from '#core/quantity/unmeasurable'

const papers: Readonly<Record<string, readonly [number, number]>> = { a4: [210, 297], letter: [215.9, 279.4] }

interface Told {
  readonly paper: string
  readonly rig: string
  readonly marks: string
  readonly ink: string
  readonly tick: string
}

const tickOf = (text: string): Pick<Hints, 'tickMm'> => {
  const tickMm = readNumber(text)
  return tickMm !== null && tickMm > 0 ? { tickMm } : {}
}

const hintsOf = ({ paper, rig, marks, ink, tick }: Told): Hints => ({
  ...(papers[paper] ? { paperMm: papers[paper] } : {}),
  ...(rig === 'mirror' ? { rig } : {}),
  ...(Number(marks) > 0 && Number.isInteger(Number(marks)) ? { expectedMarks: Number(marks) } : {}),
  ...(ink === 'dark' || ink === 'light' ? { ink } : {}),
  ...(rig === 'mirror' ? tickOf(tick) : {}),
})

/** What was drawn on the photo holds for that photo only. */
const drawnOn = ({ ignorePx, scalePx }: Hints): Hints => ({ ...(ignorePx ? { ignorePx } : {}), ...(scalePx ? { scalePx } : {}) })

/** What was told before, so that looking again begins from it. */
const toldOf = ({ paperMm, rig, expectedMarks, ink, tickMm }: Hints): Told => ({
  paper: Object.keys(papers).find((name) => papers[name]?.join() === paperMm?.join()) ?? '',
  rig: rig ?? 'pointer',
  marks: expectedMarks === undefined ? '' : String(expectedMarks),
  ink: ink ?? '',
  tick: tickMm === undefined ? '' : String(tickMm),
})

const Choice = ({ label, value, options, set }: { readonly label: string; readonly value: string; readonly options: readonly (readonly [string, string])[]; readonly set: (value: string) => void }) => (
  <label class="field small"><span>{label}</span><select value={value} onChange={({ currentTarget }) => set(currentTarget.value)}>{options.map(([each, text]) => <option key={each} value={each}>{text}</option>)}</select></label>
)

/** Choosing a photo and telling what is known about it. */
export const PhotoChoice = ({ done }: { readonly done: () => void }) => {
  const [told, setTold] = useState<Told>(() => toldOf(bench.get().work?.hints ?? {}))
  const [step, setStep] = useState('')
  const [wrong, setWrong] = useState<Unmeasurable | null>(null)
  const stop = useRef<AbortController | null>(null)
  const again = useStore(bench, (state) => state.work?.photo ?? null)

  const go = async (photo: (Blob & { readonly name?: string }) | null, drawn: Hints = {}): Promise<void> => {
    if (!photo) return
    stop.current = new AbortController()
    setWrong(null)
    const refused = await lookForMarks(photo, { ...drawn, ...hintsOf(told) }, { stop: stop.current.signal, step: setStep })
    setStep('')
    setWrong(refused)
    if (refused || stop.current.signal.aborted) return
    done()
    document.getElementById('work')?.focus({ preventScroll: true })
  }

  return (
    <section class="card" aria-label="Photo">
      {step ? (
        <LongWork step={step} stop={() => { stop.current?.abort(); setStep(''); say('Stopped.') }} />
      ) : (
        <div class="buttons">
          <label class="main file">Choose a photo<input type="file" accept="image/jpeg,image/png,image/webp,image/avif" onChange={({ currentTarget }) => void go(currentTarget.files?.[0] ?? null)} /></label>
          {again && <button type="button" onClick={() => void theBackend().photo(bench.get().id ?? '').then((photo) => go(photo, drawnOn(bench.get().work?.hints ?? {})))}>Look for marks again</button>}
        </div>
      )}
      <p class="hint">The whole sheet in the picture, held square above it, in even light. JPEG, PNG or WebP.</p>
      {wrong && <Wrong why={wrong} />}
      <p class="told">What you know about it; leave what you do not.</p>
      <div class="pair">
        <Choice label="Paper" value={told.paper} options={[['', 'find out'], ['a4', 'A4'], ['letter', 'US Letter']]} set={(paper) => setTold({ ...told, paper })} />
        <Choice label="What it shows" value={told.rig} options={[['pointer', 'marks round a shaft'], ['mirror', 'a strip of marks']]} set={(rig) => setTold({ ...told, rig })} />
        <label class="field small"><span>Marks, if counted</span><input inputMode="numeric" value={told.marks} onInput={({ currentTarget }) => setTold({ ...told, marks: currentTarget.value })} /></label>
        {told.rig === 'mirror' && <label class="field small"><span>One tick of a ruler beside them, mm</span><input inputMode="decimal" value={told.tick} onInput={({ currentTarget }) => setTold({ ...told, tick: currentTarget.value })} /></label>}
        <Choice label="Ink" value={told.ink} options={[['', 'find out'], ['dark', 'darker than the paper'], ['light', 'lighter than the paper']]} set={(ink) => setTold({ ...told, ink })} />
      </div>
    </section>
  )
}
