import { useState } from 'preact/hooks'
import { bench, patch, resultOf } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { chooseDrive } from '#core/decide/drive/choose-drive'
import type { DriveTrain } from '#core/decide/drive/drive-train'
import { idleLoad } from '#core/decide/drive/load'
import { readTrain } from '#core/decide/drive/read-train'
import { travelOf } from '#core/decide/drive/travel-of'
import { modeName } from '#core/decide/recommend'
import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { driveFigures } from '#core/report/drive-figures'
import { plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { ScrollBox } from './scroll-box.tsx'

const outputs = [
  ['screw', 'Lead screw', 'M8, Tr8x8(P2), 0.7mm'],
  ['drum', 'Drum with a line', 'round 41.78mm, or 13.3mm across'],
  ['belt', 'Toothed belt', '20 x 2mm'],
  ['rack', 'Rack and pinion', '20 x 3.14mm'],
  ['rotary', 'It only turns', ''],
] as const

/** A train put together from a reduction and an output. */
const AddTrain = ({ add }: { readonly add: (text: string) => void }) => {
  const [kind, setKind] = useState<string>('screw')
  const [size, setSize] = useState('M8')
  const [gear, setGear] = useState('')
  const text = [...gear.split(/[,;\s]+/).filter(Boolean).map((stage) => `gear ${stage}`), `${kind} ${kind === 'rotary' ? '' : size}`.trim()].join(' > ')
  const read = readTrain(text, 'this drive train')
  return (
    <form class="card" onSubmit={(event) => { event.preventDefault(); if (!isUnmeasurable(read)) add(text) }}>
      <h2>Try a drive train</h2>
      <div class="fields">
        <label class="field"><span>Gears first, driven:driving</span><input value={gear} placeholder="none, or 17:2" onInput={({ currentTarget }) => setGear(currentTarget.value)} /><small /></label>
        <label class="field"><span>Then</span><select value={kind} onChange={({ currentTarget }) => setKind(currentTarget.value)}>{outputs.map(([each, name]) => <option key={each} value={each}>{name}</option>)}</select><small /></label>
        {kind !== 'rotary' && <label class="field"><span>Its size</span><input value={size} onInput={({ currentTarget }) => setSize(currentTarget.value)} /><small>{outputs.find(([each]) => each === kind)?.[2]}</small></label>}
      </div>
      {isUnmeasurable(read) && <p class="wrong" role="status">{sentenceOf(read)}</p>}
      <button type="submit" class="main" disabled={isUnmeasurable(read)}>Add it</button>
    </form>
  )
}

const Train = ({ train, result, drop }: { readonly train: DriveTrain; readonly result: Result; readonly drop: () => void }) => {
  const travel = travelOf(train, result.motor, driveFigures(result))
  return (
    <section class="card">
      <h2>{train.name}</h2>
      <p>{plainNumber(travel.perFullStep, 4)} {travel.unit === 'mm' ? 'mm' : '°'} per full step, {plainNumber(travel.perMotorTurn, 4)} {travel.unit === 'mm' ? 'mm' : '°'} per turn of the motor.</p>
      <ScrollBox label={`Modes on ${train.name}`}>
        <table class="table">
          <thead><tr><th scope="col">Mode</th><th scope="col">Nominal, {travel.unit}</th><th scope="col">Effective, {travel.unit}</th><th scope="col">At most, {travel.unit}</th><th scope="col">Verdict</th></tr></thead>
          <tbody>{travel.modes.map((mode) => <tr key={mode.microsteps}><th scope="row">{modeName(mode.microsteps)}</th><td class="num">{plainNumber(mode.nominal, 3)}</td><td class="num">{plainNumber(mode.effective?.value, 3)}</td><td class="num">{plainNumber(mode.guaranteed, 3)}</td><td>{mode.verdict ?? '–'}</td></tr>)}</tbody>
        </table>
      </ScrollBox>
      <button type="button" onClick={drop}>Take it out</button>
    </section>
  )
}

const Shown = ({ result }: { readonly result: Result }) => {
  const machine = useStore(bench, (state) => state.work?.machine ?? { trains: [], resolution: '' })
  const trains = machine.trains.map((text) => readTrain(text, 'drive train')).flatMap((read) => (isUnmeasurable(read) ? [] : [read.train]))
  const needed = machine.resolution.trim() === '' ? null : readQuantity(machine.resolution, 'length', 'finest move wanted')
  const wanted = needed !== null && !isUnmeasurable(needed) ? needed : null
  const moving = trains.filter(({ output }) => output.kind !== 'rotary')
  const choice = wanted !== null && moving.length > 0
    ? chooseDrive({ resolution: wanted, reversal: null, travel: null, load: idleLoad }, moving, result.motor, { figures: driveFigures(result), torque: { holdingNm: null, rotorInertiaKgM2: null, pullOut: [] } })
    : null
  return (
    <div class="columns">
      <div class="review-side">
        <section class="card">
          <label class="field"><span>Finest move the machine must make</span><input value={machine.resolution} placeholder="0.02 mm" onInput={({ currentTarget }) => patch({ machine: { ...machine, resolution: currentTarget.value } })} /><small>{isUnmeasurable(needed) ? needed.what : 'a focus step for insects: about 0.02 mm'}</small></label>
        </section>
        <AddTrain add={(text) => patch({ machine: { ...machine, trains: [...machine.trains.filter((each) => each !== text), text] } })} />
      </div>
      <div class="review-side">
        {choice && <section class={`card verdict-card ${choice.best ? 'is-good' : 'is-open'}`} role="status"><p class="headline">{choice.best ? `${modeName(choice.best.microsteps)} on ${choice.best.train}` : 'Nothing meets it yet.'}</p><p>{choice.recommendation}</p></section>}
        {trains.length === 0 && <section class="card"><p class="hint">Add a drive train to see what one step moves at the carriage, by command and by measurement.</p></section>}
        {trains.map((train, i) => <Train key={train.name} train={train} result={result} drop={() => patch({ machine: { ...machine, trains: machine.trains.filter((_, j) => j !== i) } })} />)}
      </div>
    </div>
  )
}

/** Machine: what the measured motor gives through screw, drum, belt or rack. */
export const Machine = () => {
  const result = useStore(bench, resultOf)
  return result ? <Shown result={result} /> : <section class="card"><p class="hint">The machine follows from a measured motor.</p><button type="button" class="main" onClick={() => goTo('marks')}>To the marks</button></section>
}
