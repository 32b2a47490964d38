import { useEffect } from 'preact/hooks'
import { bench } from '#adapters/page/client/app/bench'
import { photoLabels } from '#adapters/page/client/app/photo-labels'
import { useStore } from '#adapters/page/client/app/store'
import { type Drawing, nothingPlaced, placedBefore, placedText, placedTyped } from '#adapters/page/client/marks/drawn'
import { chosen } from '#adapters/page/client/marks/marks-state'
import { NumberField } from './number-field.tsx'

const typed = {
  centre: { wants: 'x, y', how: 'Tap or click where the shaft stands.' },
  ring: { wants: 'inner, outer radius', how: 'Draw from just inside the marks to just outside them.' },
  corners: { wants: 'x, y; x, y; x, y; x, y', how: 'Tap or click each of the four corners; drag one to correct it.' },
  box: { wants: 'left, top, width, height', how: 'Draw a box over what is no mark: a ruler’s numbers, a tool, writing.' },
  distance: { wants: 'from x, y to x, y', how: 'Draw from one place to another along the marks, such as two ticks of a ruler.' },
} as const satisfies Readonly<Record<Drawing, unknown>>

/** @param alone it is the only one, and is being drawn as long as it is there */
const OneField = ({ drawing, alone }: { readonly drawing: Drawing; readonly alone: boolean }) => {
  const placed = useStore(chosen, (state) => state.placed)
  const active = useStore(chosen, (state) => state.tool) === drawing
  const text = placedText(placed, drawing)
  const { wants, how } = typed[drawing]
  const take = (input: HTMLInputElement): void => {
    const next = placedTyped(chosen.get().placed, drawing, input.value)
    input.setAttribute('aria-invalid', String(next === null))
    if (next) chosen.set({ placed: next })
  }
  const draw = (): void => {
    chosen.set({ tool: active ? 'move' : drawing, handle: null })
    if (!active) document.querySelector('.stage')?.scrollIntoView({ block: 'nearest' })
  }
  return (
    <div class="told-field">
      <label class="field small">
        <span>{photoLabels[drawing]}</span>
        <input key={text} defaultValue={text} aria-describedby={`told-${drawing}`} onChange={({ currentTarget }) => take(currentTarget)} />
      </label>
      {!alone && <button type="button" aria-pressed={active} aria-label={`${photoLabels[drawing]}: show it on the photo`} onClick={draw}>On the photo</button>}
      <small id={`told-${drawing}`} class={active ? 'told-now' : ''}>{active ? how : `${wants}, px of the photo`}</small>
    </div>
  )
}

/** Where things are on the photo, each drawn on it or typed. */
export const ToldFields = ({ drawings, apart, setApart }: { readonly drawings: readonly Drawing[]; readonly apart: string; readonly setApart: (mm: string) => void }) => {
  useEffect(() => {
    chosen.set({ placed: placedBefore(bench.get().work?.hints ?? {}) })
    return () => chosen.set({ placed: nothingPlaced })
  }, [])
  return (
    <div class="told-fields">
      {drawings.map((drawing) => <OneField key={drawing} drawing={drawing} alone={drawings.length === 1} />)}
      {drawings.includes('distance') && <NumberField label={photoLabels.apart} unit="mm" value={apart} set={setApart} />}
    </div>
  )
}
