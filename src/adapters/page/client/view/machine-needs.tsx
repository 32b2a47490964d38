import { useState } from 'preact/hooks'
import { type LoadTexts, wrongLoadText } from '#core/decide/drive/read-load'
import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { MachineState } from '#core/review/work'

type Key = keyof LoadTexts

const needs = [['reversal', 'Most lost on reversing', 'such as 0.05 mm']] as const

const load = [
  ['mass', 'Moving mass', 'carriage and camera: 1.2 kg'],
  ['force', 'Friction force', 'steady force against the motion: 3 N'],
  ['tilt', 'Rise of the travel', '0° lying, 90° upright'],
  ['speed', 'Speed', 'such as 5 mm/s'],
  ['acceleration', 'Acceleration', 'such as 100 mm/s²'],
] as const

const motor = [
  ['holding', 'Holding torque', 'such as 40 N·cm, 2.5 kg·cm'],
  ['rotorInertia', 'Rotor inertia', 'such as 35 g·cm²'],
  ['pullOut', 'Pull-out torque', 'full steps/s : torque, such as 200:20 N·cm, 800:8 N·cm'],
] as const

interface Fields {
  readonly machine: MachineState
  readonly change: (part: Partial<MachineState>) => void
}

const LoadField = ({ line: [key, label, hint], machine, change }: Fields & { readonly line: readonly [Key, string, string] }) => {
  const value = machine.load?.[key] ?? ''
  const wrong = value.trim() === '' ? null : wrongLoadText(key, value)
  return (
    <label class={wrong ? 'field field-wrong' : 'field'}>
      <span>{label}</span>
      <input value={value} placeholder={key === 'reversal' ? 'not asked' : 'not known'} aria-invalid={wrong !== null} onInput={({ currentTarget }) => change({ load: { ...machine.load, [key]: currentTarget.value } })} />
      <small>{wrong ? `${wrong.what}; ${wrong.remedy}` : hint}</small>
    </label>
  )
}

const Finest = ({ machine, change }: Fields) => {
  const read = machine.resolution.trim() === '' ? 0 : readQuantity(machine.resolution, 'length', 'finest move')
  const wrong = isUnmeasurable(read)
  return (
    <label class={wrong ? 'field field-wrong' : 'field'}>
      <span>Finest move</span>
      <input value={machine.resolution} placeholder="not asked" aria-invalid={wrong} onInput={({ currentTarget }) => change({ resolution: currentTarget.value })} />
      <small>{wrong ? `${read.what}; ${read.remedy}` : 'a focus step for insects: 0.02 mm'}</small>
    </label>
  )
}

/** What the machine must do, what it carries, and what is known of the motor's torque; all of it may be left empty. */
export const MachineNeeds = (fields: Fields) => {
  // Open from the start where something stands in it; after that it is the person's to open and close.
  const [open] = useState(Object.values(fields.machine.load ?? {}).some((text) => text?.trim()))
  return (
    <>
      <fieldset class="card">
        <legend>What the machine must do</legend>
        <div class="fields"><Finest {...fields} />{needs.map((line) => <LoadField key={line[0]} line={line} {...fields} />)}</div>
      </fieldset>
      <details class="card" open={open}>
        <summary>Load and force: is the motor strong enough?</summary>
        <fieldset>
          <legend>What it carries</legend>
          <div class="fields">{load.map((line) => <LoadField key={line[0]} line={line} {...fields} />)}</div>
        </fieldset>
        <fieldset>
          <legend>What the motor can pull</legend>
          <div class="fields">{motor.map((line) => <LoadField key={line[0]} line={line} {...fields} />)}</div>
          <p class="hint">From its data sheet, or measured with a lever and a spring balance. Without it, force is not proven.</p>
        </fieldset>
      </details>
    </>
  )
}
