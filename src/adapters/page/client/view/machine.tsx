import { bench, patch, resultOf } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { AddTrain } from './add-train.tsx'
import { MachineNeeds } from './machine-needs.tsx'
import { NeedsMarks } from './needs-marks.tsx'
import { Train } from './train.tsx'
import { Wrong } from './wrong.tsx'
import { chooseDrive, type ChoiceTable } from '#core/decide/drive/choose-drive'
import { type DriveTrain, travelUnit } from '#core/decide/drive/drive-train'
import { type ReadLoad, readLoad } from '#core/decide/drive/read-load'
import { readTrain } from '#core/decide/drive/read-train'
import { modeName } from '#core/decide/recommend'
import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { driveFigures } from '#core/report/drive-figures'
import type { Result } from '#core/report/result-schema'
import type { MachineState } from '#core/review/work'

const noMachine: MachineState = { trains: [], resolution: '' }

interface Asked extends ReadLoad {
  readonly resolution: number | null
}

const askedOf = ({ resolution, load = {} }: MachineState): Asked | Unmeasurable => {
  const needed = resolution.trim() === '' ? null : readQuantity(resolution, 'length', 'finest move')
  const read = readLoad(load)
  if (isUnmeasurable(needed)) return needed
  return isUnmeasurable(read) ? read : { ...read, resolution: needed }
}

const anything = ({ resolution, reversal, load }: Asked): boolean => resolution !== null || reversal !== null || Object.values(load).some((value) => value !== 0)

const choiceOf = (trains: readonly DriveTrain[], asked: Asked, result: Result): ChoiceTable | null => {
  const moving = trains.filter(({ output }) => travelUnit(output) === 'mm')
  if (moving.length === 0 || !anything(asked)) return null
  const { resolution, reversal, load, torque } = asked
  return chooseDrive({ resolution, reversal, travel: null, load }, moving, result.motor, { figures: driveFigures(result), torque })
}

const sentence = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`

/** The recommendation as a headline and what is to be done; why each mode fails stands beside it in the table. */
const told = ({ best, recommendation }: ChoiceTable): readonly [headline: string, rest: string] => {
  if (best) return [`${sentence(modeName(best.microsteps))} on ${best.train}`, recommendation]
  const [, nothing, rest] = /^(Nothing [^(]*?) \([^)]*\)\.\s*(.*)$/.exec(recommendation) ?? []
  return nothing === undefined || rest === undefined ? ['Nothing is proven to do it.', recommendation] : [`${nothing}.`, rest]
}

const Answer = ({ choice }: { readonly choice: ChoiceTable }) => {
  const [headline, rest] = told(choice)
  return (
    <section class={`card verdict-card ${choice.best ? 'is-good' : 'is-open'}`} role="status">
      <p class="headline">{headline}</p>
      <p>{rest}</p>
    </section>
  )
}

const Shown = ({ result }: { readonly result: Result }) => {
  const machine = useStore(bench, (state) => state.work?.machine ?? noMachine)
  const change = (part: Partial<MachineState>): void => patch({ machine: { ...machine, ...part } })
  const read = machine.trains.map((text) => readTrain(text, 'drive train'))
  const trains = read.flatMap((each) => (isUnmeasurable(each) ? [] : [each]))
  const asked = askedOf(machine)
  const choice = isUnmeasurable(asked) ? null : choiceOf(trains.map(({ train }) => train), asked, result)
  return (
    <div class="machine-page">
      <div class="review-side">
        <AddTrain add={(text) => change({ trains: [...machine.trains.filter((each) => each !== text), text] })} />
        <MachineNeeds machine={machine} change={change} />
      </div>
      <div class="review-side">
        {isUnmeasurable(asked) && <Wrong why={asked} />}
        {choice && <Answer choice={choice} />}
        {trains.length === 0 && <section class="card"><p class="hint">Add a drive train to see what one step moves at the carriage: by command, by measurement, and at the most.</p></section>}
        {trains.map(({ train, warnings }) => (
          <Train
            key={train.name} train={train} result={result} warnings={warnings} load={isUnmeasurable(asked) ? null : asked} choices={choice?.choices.filter((each) => each.train === train.name) ?? []}
            drop={() => change({ trains: machine.trains.filter((text) => { const each = readTrain(text, ''); return isUnmeasurable(each) || each.train.name !== train.name }) })}
          />
        ))}
      </div>
    </div>
  )
}

/** Machine: what the measured motor gives through screw, drum, belt or rack, and whether that will do. */
export const Machine = () => {
  const result = useStore(bench, resultOf)
  return result ? <Shown result={result} /> : <NeedsMarks what="What a step gives at the carriage follows from a measured motor." />
}
