import { type Known, sizeOf } from '#adapters/page/client/app/known'
import { photoLabels } from '#adapters/page/client/app/photo-labels'

const Choice = ({ label, value, options, set }: { readonly label: string; readonly value: string; readonly options: readonly (readonly [string, string])[]; readonly set: (value: string) => void }) => (
  <label class="field small"><span>{label}</span><select value={value} onChange={({ currentTarget }) => set(currentTarget.value)}>{options.map(([each, text]) => <option key={each} value={each}>{text}</option>)}</select></label>
)

const papers = [['', 'find out'], ['a4', 'A4'], ['letter', 'US Letter'], ['other', 'another size']] as const
const rigs = [['', 'find out'], ['pointer', 'marks round a shaft'], ['mirror', 'a strip of marks']] as const
const inks = [['', 'find out'], ['dark', 'darker than the paper'], ['light', 'lighter than the paper']] as const

/** What is known about a photo without pointing at it. */
export const KnownFields = ({ known, set }: { readonly known: Known; readonly set: (known: Known) => void }) => {
  const take = (name: keyof Known) => (value: string): void => set({ ...known, [name]: value })
  const text = (name: 'size' | 'marks' | 'tick', label: string, wrong = false) => (
    <label class={wrong ? 'field small field-wrong' : 'field small'}><span>{label}</span><input inputMode={name === 'marks' ? 'numeric' : undefined} value={known[name]} aria-invalid={wrong} onInput={({ currentTarget }) => take(name)(currentTarget.value)} /></label>
  )
  return (
    <div class="pair">
      <Choice label={photoLabels.paper} value={known.paper} options={papers} set={take('paper')} />
      {known.paper === 'other' && text('size', 'Width × height of the paper, mm', known.size !== '' && sizeOf(known.size) === null)}
      <Choice label={photoLabels.rig} value={known.rig} options={rigs} set={take('rig')} />
      {text('marks', photoLabels.marks)}
      {known.rig === 'mirror' && text('tick', `${photoLabels.tick}, mm`)}
      <Choice label={photoLabels.ink} value={known.ink} options={inks} set={take('ink')} />
    </div>
  )
}
