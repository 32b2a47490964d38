import { useState } from 'preact/hooks'
import { say } from '#adapters/page/client/app/bench'
import { readTrain } from '#core/decide/drive/read-train'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'

const outputs = [
  ['screw', 'Lead screw', 'M8', 'a thread (M8, Tr8x8(P2)) or its pitch (0.7 mm)'],
  ['drum', 'Drum with a line', '13.3 mm', 'diameter, or round 41.78 mm for its circumference'],
  ['belt', 'Toothed belt', '20 x 2 mm', 'teeth of the pulley x pitch'],
  ['rack', 'Rack and pinion', '20 x 3.14 mm', 'teeth of the pinion x pitch'],
  ['rotary', 'It only turns', '', ''],
] as const

interface Parts {
  readonly gear: string
  readonly kind: string
  readonly size: string
  readonly backlash: string
  readonly efficiency: string
}

const lossesOf = ({ backlash, efficiency }: Parts): string => `${backlash.trim() ? ` backlash ${backlash.trim()}` : ''}${efficiency.trim() ? ` efficiency ${efficiency.trim()}` : ''}`

const textOf = (parts: Parts): string => {
  const { gear, kind, size } = parts
  const last = `${kind} ${kind === 'rotary' ? '' : size}`.trim()
  return [...gear.split(/[,;\s]+/).filter(Boolean).map((stage) => `gear ${stage}`), `${last}${lossesOf(parts)}`].join(' > ')
}

/** A train put together from a reduction and an output. */
export const AddTrain = ({ add }: { readonly add: (text: string) => void }) => {
  const [parts, setParts] = useState<Parts>({ gear: '', kind: 'screw', size: 'M8', backlash: '', efficiency: '' })
  const set = (part: Partial<Parts>): void => setParts({ ...parts, ...part })
  const text = textOf(parts)
  const read = readTrain(text, 'this drive train')
  const [, , , sizeHint] = outputs.find(([each]) => each === parts.kind) ?? outputs[0]
  const submit = (event: Event): void => {
    event.preventDefault()
    if (isUnmeasurable(read)) return
    add(text)
    say(`Added: ${text}.`)
  }
  return (
    <form class="card" onSubmit={submit}>
      <h2>Add a drive train</h2>
      <div class="fields">
        <label class="field"><span>It ends in</span><select value={parts.kind} onChange={({ currentTarget: { value } }) => set({ kind: value, size: outputs.find(([each]) => each === value)?.[2] ?? '' })}>{outputs.map(([each, name]) => <option key={each} value={each}>{name}</option>)}</select><small>what moves the carriage</small></label>
        {parts.kind !== 'rotary' && <label class="field"><span>Its size</span><input value={parts.size} onInput={({ currentTarget }) => set({ size: currentTarget.value })} /><small>{sizeHint}</small></label>}
        <label class="field"><span>Gears before it</span><input value={parts.gear} placeholder="none" onInput={({ currentTarget }) => set({ gear: currentTarget.value })} /><small>teeth, driven:driving, such as 17:2</small></label>
        <label class="field"><span>Its backlash</span><input value={parts.backlash} placeholder="0 mm" onInput={({ currentTarget }) => set({ backlash: currentTarget.value })} /><small>play at the carriage, such as 0.05 mm</small></label>
        <label class="field"><span>Its efficiency</span><input value={parts.efficiency} placeholder="100 %" onInput={({ currentTarget }) => set({ efficiency: currentTarget.value })} /><small>a sliding screw: about 30 %</small></label>
      </div>
      {isUnmeasurable(read) && <p class="wrong" role="status">{sentenceOf(read)}</p>}
      <button type="submit" class="main" disabled={isUnmeasurable(read)}>Add it</button>
    </form>
  )
}
