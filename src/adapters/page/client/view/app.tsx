import type { ComponentType } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { ConflictBox } from './conflict-box.tsx'
import { fetchedLater } from './fetched-later.tsx'
import { JoinBox } from './join-box.tsx'
import { Notice } from './notice.tsx'
import { StepRule } from './step-rule.tsx'
import { FirstTest } from './first-test.tsx'
import { TestBar } from './test-bar.tsx'
import { VerdictStrip } from './verdict-strip.tsx'
import { Machine } from './machine.tsx'
import { Marks } from './marks.tsx'
import { Note } from './note.tsx'
import { Pace } from './pace.tsx'
import { Plan } from './plan.tsx'
import { Print } from './print.tsx'
import { Verdict } from './verdict.tsx'
import { bench } from '#adapters/page/client/app/bench'
import { place, type StepId, steps } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'

/** Its statistics weigh as much as half the page; few visits need them. */
const Compare = fetchedLater(async () => (await import('./compare.tsx')).Compare)

const screens: Readonly<Record<StepId, ComponentType>> = { plan: Plan, print: Print, pace: Pace, marks: Marks, verdict: Verdict, machine: Machine, note: Note, compare: Compare }

const Screen = () => {
  const step = useStore(place, (state) => state.step)
  const id = useStore(bench, (state) => state.id)
  const any = useStore(bench, ({ work }) => Boolean(work && (work.source === 'photo' ? work.found : work.rows.some((row) => row[0]))))
  const Shown = screens[step]
  const first = useRef(true)
  useEffect(() => {
    if (!first.current) {
      scrollTo(0, 0)
      document.getElementById('work')?.focus({ preventScroll: true })
    }
    first.current = false
  }, [step])
  return (
    <main id="work" class={`work work-${step}`} tabIndex={-1}>
      <h1>{id === null ? 'Which microsteps of your motor are real?' : step === 'marks' && !any ? 'Put in the marks' : steps.find((each) => each.id === step)?.title}</h1>
      {id === null ? <FirstTest /> : <Shown key={id} />}
    </main>
  )
}

export const App = () => {
  const locked = useStore(bench, (state) => state.locked)
  const ready = useStore(bench, (state) => state.project !== null)
  if (locked) return <JoinBox />
  return (
    <div class="frame">
      <button type="button" class="skip" onClick={() => document.getElementById('work')?.focus()}>Go to the work</button>
      <TestBar />
      <VerdictStrip />
      <StepRule />
      {ready ? <Screen /> : <main class="work" id="work"><h1>Opening the bench</h1></main>}
      <ConflictBox />
      <Notice />
    </div>
  )
}
