import { useEffect, useRef, useState } from 'preact/hooks'
import { bench, patch } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { useKept } from '#adapters/page/client/app/kept'
import { NumberField } from './number-field.tsx'
import { SureButton } from './sure-button.tsx'
import { marksOf, scheduleOf } from '#core/prepare/pace/schedule-of'
import { checkPace, type PaceSetup } from '#core/prepare/pace/pace-setup'
import { usualDwellS } from '#core/prepare/usual-pace'
import type { PaceState, Work } from '#core/review/work'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { setUpOfWork } from '#core/review/trace-of-work'
import { signal, wakeSound } from '#adapters/page/client/app/pace-signal'

const setupOf = (work: Work, { commands, dwellS, bothWays }: PaceState): PaceSetup => {
  const read = setUpOfWork(work)
  const { motor = work.name, stepsPerRev = 200, microsteps = 1 } = isUnmeasurable(read) ? {} : read
  return { motor, stepsPerRev, microsteps, commands, passes: 1, bothWays, direction: 1, settleS: 0, dwellS, runUp: 0, rate: 1, coolS: 0, energisedLimitS: 3600 }
}

/** Commands of a whole turn; null while the motor is not known. */
const wholeTurn = (work: Work | null): number | null => {
  const [s, n] = [Number(work?.setUp['steps-per-rev']), Number(work?.setUp['microsteps'])]
  return s > 0 && n > 0 ? s * n : null
}

/** Before the run: how many, how long, there and back. */
const Beginning = ({ work }: { readonly work: Work }) => {
  const [commands, setCommands] = useState(work.setUp['commands'] || String(wholeTurn(work) ?? ''))
  const [dwell, setDwell] = useKept('dwell', String(usualDwellS))
  const [back, setBack] = useState(false)
  const state: PaceState = { commands: Math.round(Number(commands)), dwellS: Number(dwell), command: 0, bothWays: back }
  const sound = state.commands >= 1 && state.commands <= 100_000 && state.dwellS >= 0.5
  const wrong = sound ? checkPace(setupOf(work, state)) : null
  const begin = (): void => {
    wakeSound()
    patch({ pace: state })
  }
  return (
    <section class="card pace-begin">
      <div class="fields">
        <NumberField label="Commands in the run" value={commands} set={setCommands} hint={wholeTurn(work) ? `a whole turn: ${wholeTurn(work)}` : 'a whole turn is full steps per turn × microsteps; give both under Plan'} />
        <NumberField label="Time at each mark" value={dwell} set={setDwell} unit="s" hint="half a second at least" />
      </div>
      <label class="check"><input type="checkbox" checked={back} onChange={({ currentTarget }) => setBack(currentTarget.checked)} /> There and back, which shows what is lost on reversing</label>
      {wrong && <p class="wrong">{wrong.what}; {wrong.remedy}.</p>}
      <button type="button" class="main huge" disabled={!sound} onClick={begin}>Begin with the start mark</button>
      <p class="hint">You step the motor; this page counts along. Sound and vibration tell each command, so that your eyes can stay on the pen. The count is kept when you close the page.</p>
    </section>
  )
}

const beat = 100

/** The run: one number, as large as the screen allows. */
const Running = ({ work, pace }: { readonly work: Work; readonly pace: PaceState }) => {
  const marks = marksOf(scheduleOf(setupOf(work, pace)))
  const [going, setGoing] = useState(false)
  const [left, setLeft] = useState(pace.dwellS)
  const due = useRef(0)
  const index = Math.min(pace.command, marks.length - 1)
  const now = marks[index]
  const over = pace.command >= marks.length
  const first = useRef<HTMLButtonElement>(null)
  // What had the focus is gone; the next thing to press takes it.
  useEffect(() => first.current?.focus({ preventScroll: true }), [over])

  const moveTo = (command: number): void => {
    due.current = performance.now() + pace.dwellS * 1000
    setLeft(pace.dwellS)
    patch({ pace: { ...pace, command: Math.max(0, Math.min(marks.length, command)) } })
  }
  useEffect(() => {
    if (!going || over) return
    due.current = performance.now() + left * 1000
    const timer = setInterval(() => {
      const rest = (due.current - performance.now()) / 1000
      setLeft(Math.max(0, rest))
      if (rest > 0) return
      signal(pace.command + 1 >= marks.length ? 'end' : 'step')
      moveTo(pace.command + 1)
    }, beat)
    return () => clearInterval(timer)
  }, [going, pace.command, over])
  useEffect(() => {
    if (!going || !('wakeLock' in navigator)) return
    const lock = navigator.wakeLock.request('screen').catch(() => null)
    return () => void lock.then((held) => held?.release())
  }, [going])

  if (over)
    return (
      <section class="card pace-run">
        <p class="pace-word">All {marks.length} marks made.</p>
        <p>Leave the sheet where it is until the photo is taken.</p>
        <div class="buttons"><button ref={first} type="button" class="main huge" onClick={() => goTo('marks')}>To the photo</button><button type="button" onClick={() => patch({ pace: null })}>Another run</button></div>
      </section>
    )
  return (
    <section class="card pace-run">
      <p class="pace-word">{pace.command === 0 ? 'Start mark' : `Step once${now && now.direction < 0 ? ' back' : ''}, then mark`}</p>
      <p class="pace-number" role="timer" aria-live={going ? 'off' : 'polite'}>{now?.command ?? 0}</p>
      <p class="pace-of">of {pace.commands} commands{now && now.direction < 0 ? ', on the way back' : ''} · {left.toFixed(going ? 1 : 0)} s</p>
      <meter class="pace-left" min={0} max={pace.dwellS} value={left} aria-label="Time left at this mark" />
      <button ref={first} type="button" class="main huge" onClick={() => { wakeSound(); setGoing(!going) }}>{going ? 'Hold' : 'Go'}</button>
      <div class="buttons pace-steps">
        <button type="button" onClick={() => moveTo(pace.command - 1)} disabled={pace.command === 0}>One back</button>
        <button type="button" onClick={() => { signal('step'); moveTo(pace.command + 1) }}>Next now</button>
        <SureButton label="Give up this run" sure="Really give it up?" act={() => { setGoing(false); patch({ pace: null }) }} />
      </div>
    </section>
  )
}

/** Pace: the run told command by command, on the screen beside the rig. */
export const Pace = () => {
  const work = useStore(bench, (state) => state.work)
  if (!work) return null
  return work.pace ? <Running work={work} pace={work.pace} /> : <Beginning work={work} />
}
