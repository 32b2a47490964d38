import { readNumber } from '#core/quantity/read-number'

interface Field {
  readonly label: string
  readonly value: string
  readonly set: (value: string) => void
  readonly hint?: string
  readonly unit?: string
}

/** A number with its unit beside it. */
export const NumberField = ({ label, value, set, hint = '', unit = '' }: Field) => {
  const wrong = value.trim() !== '' && readNumber(value) === null
  return (
    <label class={wrong ? 'field field-wrong' : 'field'}>
      <span>{label}</span>
      <span class="with-unit"><input inputMode="decimal" value={value} aria-invalid={wrong} onInput={({ currentTarget }) => set(currentTarget.value)} />{unit && <i>{unit}</i>}</span>
      <small>{wrong ? 'must be a number' : hint}</small>
    </label>
  )
}
