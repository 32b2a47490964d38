import { MeasuredValue } from './measured-value.tsx'
import { ScrollBox } from './scroll-box.tsx'
import type { Choice } from '#core/decide/drive/choose-drive'
import type { DriveTrain } from '#core/decide/drive/drive-train'
import { type Dynamics, dynamicsOf } from '#core/decide/drive/dynamics-of'
import type { ReadLoad } from '#core/decide/drive/read-load'
import { type Answer, type Check, forceCheck } from '#core/decide/drive/requirement-checks'
import { type ModeTravel, travelOf } from '#core/decide/drive/travel-of'
import { modeName } from '#core/decide/recommend'
import { driveFigures } from '#core/report/drive-figures'
import { plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'

const looks: Readonly<Record<Answer, readonly [sign: string, word: string, look: string]>> = { pass: ['●', 'will do', 'holds'], 'not proven': ['◐', 'not proven', 'not-proven'], fail: ['✕', 'will not do', 'fails'] }

const margin = ({ margin }: Check): string => (margin === null ? '' : ` (${plainNumber(margin, 2)} times what is needed)`)

/** Reached against wanted, where the check is about how fine a step is. */
const against = ({ requirement, margin: room }: Check, { resolution, unit }: Choice): string =>
  requirement === 'resolution' && room !== null ? ` (${plainNumber(resolution, 3)} ${unit === 'mm' ? 'mm' : '°'} where ${plainNumber(room * resolution, 3)} is wanted)` : ''

/** What speaks against a choice; what speaks for it when nothing does. */
const reasons = (choice: Choice): string => choice.checks.filter((check) => check.answer === choice.answer && check.requirement !== 'speed and force').map((check) => `${check.why}${against(check, choice)}`).join('; ') || 'all but the force will do; see Force below'

/** A mode's travel, and below it why it will do or not. */
const Rows = ({ mode, choice }: { readonly mode: ModeTravel; readonly choice: Choice | undefined }) => {
  const [sign, word, look] = looks[choice?.answer ?? 'not proven']
  return (
    <>
      <tr class={choice ? `mode-${look} reasoned` : ''}>
        <th scope="row">{modeName(mode.microsteps)}</th>
        <td class="num">{plainNumber(mode.nominal)}</td>
        <td>{mode.effective ? <MeasuredValue of={mode.effective} /> : '–'}</td>
        <td class="num">{plainNumber(mode.guaranteed)}</td>
        {choice ? <td class="mode-verdict"><span aria-hidden="true">{sign}</span> {word}</td> : <td>{mode.verdict ?? '–'}</td>}
      </tr>
      {choice && <tr class="reason"><td colSpan={5}>{reasons(choice)}</td></tr>}
    </>
  )
}

const milli = (newtonMetres: number | null): string => (newtonMetres === null ? 'not known' : `${plainNumber(newtonMetres * 1000, 3)} mN·m`)

const starts = ({ modes }: Dynamics): string => modes.map(({ microsteps, commandsBeforeMotion }) => `${Number.isFinite(commandsBeforeMotion) ? commandsBeforeMotion : 'never'} in ${modeName(microsteps)}`).join(', ')

/** Force between motor and carriage, line by line; only what could be worked out. */
const forceLines = (dynamics: Dynamics): readonly (readonly [name: string, value: string, meaning: string])[] => {
  const { torques, fullStepRate, pullOutNm, highestSpeed, lag, modes } = dynamics
  const [shaft] = torques
  return [
    ['Torque the load asks of the motor', milli(shaft?.acceleratingNm ?? 0), `while accelerating; ${milli(shaft?.steadyNm ?? 0)} at steady speed`],
    ...(fullStepRate > 0 ? [['Torque the motor has', milli(pullOutNm), `pull-out, at ${plainNumber(fullStepRate, 3)} full steps per second`] as const] : []),
    ...(highestSpeed === null ? [] : [['Speed up to which its torque is enough', `${plainNumber(highestSpeed, 3)} mm/s`, 'from the pull-out points, without any room to spare'] as const]),
    ...(lag === null ? [] : [['Carriage behind its place', `${plainNumber(lag, 2)} mm`, 'held against the steady load, by the motor’s own give'] as const]),
    ...(modes.length === 0 ? [] : [['Commands from rest before it moves', starts(dynamics), 'the steady load, or dry friction, takes them up'] as const]),
  ]
}

const Force = ({ dynamics }: { readonly dynamics: Dynamics }) => {
  const check = forceCheck(dynamics)
  const [sign, word, look] = looks[check.answer]
  return (
    <>
      <h3>Force</h3>
      <p class={`mode-${look}`}><span class="mode-verdict"><span aria-hidden="true">{sign}</span> {word}</span>: {check.why}{margin(check)}; one and a half times is wanted.</p>
      <dl class="lines">{forceLines(dynamics).map(([name, value, meaning]) => <div key={name}><dt>{name}<small>{meaning}</small></dt><dd>{value}</dd></div>)}</dl>
    </>
  )
}

const carries = ({ load }: ReadLoad): boolean => load.massKg > 0 || load.force > 0

interface Shown {
  readonly train: DriveTrain
  readonly result: Result
  readonly warnings: readonly string[]
  /** Null when it cannot be read. */
  readonly load: ReadLoad | null
  readonly choices: readonly Choice[]
  readonly drop: () => void
}

/** One drive train: what each step mode moves at the carriage, whether that will do, and the force behind it. */
export const Train = ({ train, result, warnings, load, choices, drop }: Shown) => {
  const travel = travelOf(train, result.motor, driveFigures(result))
  const unit = travel.unit === 'mm' ? 'mm' : '°'
  const { backlash, total } = { backlash: train.output.backlash, total: travel.reversal.total }
  return (
    <section class="card">
      <h2>{train.name}</h2>
      {warnings.map((warning) => <p key={warning} class="hint">{warning}</p>)}
      <p>{plainNumber(travel.perFullStep, 4)} {unit} per full step, {plainNumber(travel.perMotorTurn, 4)} {unit} per turn of the motor{total > 0 ? `; ${plainNumber(total, 2)} ${unit} lost on reversing${backlash > 0 ? ', backlash among it' : ''}` : ''}.</p>
      <ScrollBox label={`Modes on ${train.name}`}>
        <table class="table">
          <thead><tr><th scope="col">Mode</th><th scope="col">Nominal, {unit}</th><th scope="col">Effective, {unit} (95 %)</th><th scope="col">Guaranteed, {unit}</th><th scope="col">{choices.length > 0 ? 'For this machine' : 'Verdict'}</th></tr></thead>
          <tbody>{travel.modes.map((mode) => <Rows key={mode.microsteps} mode={mode} choice={choices.find(({ microsteps }) => microsteps === mode.microsteps)} />)}</tbody>
        </table>
      </ScrollBox>
      {load && carries(load) && train.output.kind === 'screw' && train.output.efficiency === 1 && <p class="hint">No efficiency is stated, so nothing is lost in the screw here; a plain one keeps about a third of the torque, a ball screw about nine tenths.</p>}
      {load && travel.unit === 'mm' && carries(load) && <Force dynamics={dynamicsOf(train, result.motor, load.load, load.torque)} />}
      <button type="button" onClick={drop}>Take this train out</button>
    </section>
  )
}
