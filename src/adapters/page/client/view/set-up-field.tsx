import { bench, patch } from '#adapters/page/client/app/bench'
import { setUpLabels } from '#adapters/page/client/app/set-up-labels'
import { useStore } from '#adapters/page/client/app/store'
import { readSetUp } from '#core/ingest/set-up'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

export const setField = (key: string, value: string): void => {
  const { work } = bench.get()
  if (work) patch({ setUp: { ...work.setUp, [key]: value } })
}

const wrongWith = (key: string, value: string): string => {
  if (value.trim() === '') return ''
  const read = readSetUp(key, value, key)
  return isUnmeasurable(read) ? `${read.what.replace(`${key} `, '')}` : ''
}

interface Field {
  readonly name: keyof typeof setUpLabels
  readonly hint?: string
  readonly number?: boolean
}

/** One line of the set-up, checked as it is typed. */
export const SetUpField = ({ name, hint = '', number = false }: Field) => {
  const value = useStore(bench, (state) => state.work?.setUp[name] ?? '')
  const wrong = wrongWith(name, value)
  return (
    <label class={wrong ? 'field field-wrong' : 'field'}>
      <span>{setUpLabels[name]}</span>
      <input value={value} inputMode={number ? 'numeric' : undefined} aria-invalid={wrong !== ''} aria-describedby={`hint-${name}`} onInput={({ currentTarget }) => setField(name, currentTarget.value)} />
      <small id={`hint-${name}`}>{wrong || hint}</small>
    </label>
  )
}

/** One of a few words of the set-up. */
export const SetUpChoice = ({ name, label, options, wide = false }: { readonly name: string; readonly label: string; readonly wide?: boolean; readonly options: readonly (readonly [value: string, text: string])[] }) => {
  const value = useStore(bench, (state) => state.work?.setUp[name] ?? options[0]?.[0] ?? '')
  return (
    <label class={wide ? 'field whole-row' : 'field'}>
      <span>{label}</span>
      <select value={value} onChange={({ currentTarget }) => setField(name, currentTarget.value)}>
        {options.map(([each, text]) => <option key={each} value={each}>{text}</option>)}
      </select>
      <small />
    </label>
  )
}
