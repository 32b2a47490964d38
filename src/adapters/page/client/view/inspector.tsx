import { useEffect, useState } from 'preact/hooks'
import { bench } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { isDoubtful, type ReviewedMark } from '#core/review/reviewed'
import { lookOf } from '#adapters/page/client/marks/draw-marks'
import { acceptSelected, chosen, deleteSelected, doubtfulIds, labelSelected, selectFrame, selectNextDoubtful, splitSelected } from '#adapters/page/client/marks/marks-state'
import { nudgeAlong } from '#adapters/page/client/marks/nudge'

const looks = { found: '○ found by the tool', moved: '◇ moved by hand', added: '□ added by hand', doubt: '△ in doubt' } as const

const whole = (text: string): number | null => (/^-?\d{1,8}$/.test(text.trim()) ? Number(text) : null)

/** A whole number of a mark, taken over on Enter or on leaving the field. */
const NumberField = ({ id, label, hint, value, take }: { readonly id: string; readonly label: string; readonly hint: string; readonly value: number | null; readonly take: (value: number | null) => void }) => {
  const [text, setText] = useState(String(value ?? ''))
  useEffect(() => setText(String(value ?? '')), [value])
  return (
    <label class="field small" for={id}>
      <span>{label}</span>
      <input
        id={id} inputMode="numeric" value={text} onInput={({ currentTarget }) => setText(currentTarget.value)} onBlur={() => take(whole(text))}
        onKeyDown={(event) => { if (event.key === 'Enter') { take(whole(text)); document.querySelector<HTMLElement>('.stage')?.focus() } }}
      />
      <small>{hint}</small>
    </label>
  )
}

/** Small moves without dragging: for keyboards, and for hands that shake. */
const Nudges = () => (
  <fieldset class="nudges" aria-label="Move by one photo pixel">
    <span class="hint" aria-hidden="true">Move by 1 px</span>
    <button type="button" aria-label="Counter-clockwise" onClick={() => nudgeAlong(1)}>↺</button>
    <button type="button" aria-label="Clockwise" onClick={() => nudgeAlong(-1)}>↻</button>
    <button type="button" aria-label="Outward" onClick={() => nudgeAlong(0, 1)}>↑</button>
    <button type="button" aria-label="Inward" onClick={() => nudgeAlong(0, -1)}>↓</button>
  </fieldset>
)

const commandsOf = (index: number): string => {
  const { rests } = bench.get()
  const on = (rests?.markOfRest ?? []).flatMap((mark, k) => (mark === index ? [k] : []))
  return on.length === 0 ? '' : on.length === 1 ? `command ${on[0]}` : `commands ${on[0]} to ${on.at(-1)}, merged`
}

/** What the doubt is, and what ends it. */
const whyInDoubt = (mark: ReviewedMark): string => {
  if (isDoubtful(mark)) return `The tool is only ${Math.round(mark.confidence * 100)} % sure that this is a pen mark. If it is, let it stand; if it lies beside the ink, drag it there; if it is none, delete it.`
  if (mark.multiplicity > 1 && !mark.accepted && mark.origin === 'found') return `It is wide enough for ${mark.multiplicity} marks. Split it, or let it stand as one.`
  return doubtfulIds().includes(mark.id) ? 'The marks alone do not settle which commands ended here. Give its command, or its tally.' : ''
}

/** What is in doubt about the chosen mark, over the photo where one is looking, with what ends it. */
export const DoubtPanel = () => {
  const handle = useStore(chosen, (state) => state.handle)
  const marks = useStore(bench, (state) => state.state?.marks)
  useStore(bench, (state) => state.outcome)
  const mark = handle?.kind === 'mark' ? marks?.find(({ id }) => id === handle.id) : undefined
  const doubt = mark ? whyInDoubt(mark) : ''
  if (!mark || doubt === '') return null
  return (
    <section class="doubt-panel" aria-label="In doubt">
      <p>{doubt}</p>
      <div class="buttons">
        {lookOf(mark) === 'doubt' && <button type="button" class="main" onClick={acceptSelected}>It stands</button>}
        {mark.multiplicity > 1 && <button type="button" onClick={splitSelected}>Split</button>}
        <button type="button" onClick={deleteSelected}>Delete</button>
        <button type="button" onClick={selectNextDoubtful}>Next in doubt</button>
      </div>
    </section>
  )
}

/** Where a mark is, and how sure that is. */
const placeOf = ({ angleDeg, uDeg, uOwnDeg, positionMm, positionPx, uPosition, uOwnPosition }: ReviewedMark): string => {
  const words = (value: number | null, u: number | null, own: number | null, unit: string, digits: number): string =>
    `${value?.toFixed(digits) ?? '–'}${unit}${u === null ? '' : ` (u ${u.toFixed(digits)}${unit}, ${(own ?? u).toFixed(digits)}${unit} of it its own)`}`
  if (angleDeg !== null) return words(angleDeg, uDeg, uOwnDeg, '°', 3)
  return positionMm === null ? words(positionPx, uPosition, uOwnPosition, ' px', 1) : words(positionMm, uPosition, uOwnPosition, ' mm', 3)
}

const OneMark = ({ mark, index }: { readonly mark: ReviewedMark; readonly index: number }) => {
  const look = lookOf(mark)
  const doubt = whyInDoubt(mark)
  return (
    <>
      <p class="which"><strong>Mark {index + 1}</strong> <span class={`look look-${look}`}>{looks[look]}</span></p>
      <p class="numbers">{placeOf(mark)} · {commandsOf(index)}</p>
      {doubt && <p class="doubt">{doubt}</p>}
      <div class="pair">
        <NumberField key={`c${mark.id}`} id="mark-command" label="Its command" hint="the number written at it" value={mark.command} take={(command) => labelSelected({ command, tally: mark.tally })} />
        <NumberField key={`t${mark.id}`} id="mark-tally" label="Its tally" hint="commands that ended here" value={mark.tally} take={(tally) => labelSelected({ command: mark.command, tally })} />
      </div>
      <Nudges />
      <div class="buttons">
        {look === 'doubt' && <button type="button" class="main" onClick={acceptSelected}>It stands</button>}
        <button type="button" onClick={splitSelected}>Split in two</button>
        <button type="button" onClick={deleteSelected}>Delete</button>
      </div>
    </>
  )
}

/** What is selected, and what can be done with it. */
export const Inspector = () => {
  const handle = useStore(chosen, (state) => state.handle)
  const marks = useStore(bench, (state) => state.state?.marks)
  const corners = useStore(bench, (state) => state.state?.cornersPx)
  useStore(bench, (state) => state.rests)
  const index = (marks ?? []).findIndex(({ id }) => handle?.kind === 'mark' && id === handle.id)
  const mark = marks?.[index]
  return (
    <section class="card inspector" aria-label="Selected">
      {mark ? <OneMark mark={mark} index={index} /> : handle && handle.kind !== 'mark' ? (
        <>
          <p class="which"><strong>{handle.kind === 'centre' ? 'Shaft centre' : `Corner ${handle.index + 1} of the paper`}</strong></p>
          <p class="numbers">Every angle is taken about the centre{corners ? ', on the paper as the corners show it' : ''}.</p>
          <Nudges />
          <button type="button" onClick={selectFrame}>Next of these</button>
        </>
      ) : (
        <p class="hint">Choose a mark on the photo, the dial or the plot. Drag it where the ink is.</p>
      )}
    </section>
  )
}

