import { bench } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { inFields } from '#adapters/page/client/app/remedy-on-page'
import { useStore } from '#adapters/page/client/app/store'
import { useKept } from '#adapters/page/client/app/kept'
import { NumberField } from './number-field.tsx'
import { RigDrawing } from './rig-drawing.tsx'
import { setField, SetUpField } from './set-up-field.tsx'
import { Wrong } from './wrong.tsx'
import type { PlannedRig, PlanSetup } from '#core/prepare/plan/plan-setup'
import { planTest, type TestPlan } from '#core/prepare/plan/plan-test'
import { planVerdict } from '#core/prepare/plan/plan-verdict'
import { usualDwellS } from '#core/prepare/usual-pace'
import { readNumber } from '#core/quantity/read-number'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { durationText } from '#core/report/duration-text'
import { plainNumber } from '#core/report/number-text'
import { setUpOfWork } from '#core/review/trace-of-work'
import { gearRatio } from '#core/rig/shaft-angle'

const numberOf = (text: string, otherwise: number): number => {
  const value = readNumber(text)
  return value !== null && value > 0 ? value : otherwise
}

const Told = ({ plan, setup }: { readonly plan: TestPlan; readonly setup: PlanSetup }) => {
  const { enough, headline, need } = planVerdict(setup, plan)
  return (
    <>
      <section class={`card verdict-card ${enough ? 'is-good' : 'is-open'}`}>
        <p class="headline">{headline}.</p>
        {need !== '' && <p>{need[0]?.toUpperCase()}{need.slice(1)}.</p>}
        <dl class="figures two-by-two">
          <div class="figure"><dt>Positions it tells apart</dt><dd>{plainNumber(plan.toldApart, 3)}<small class="below">per full step</small></dd></div>
          <div class="figure"><dt>One mark is uncertain by</dt><dd>{plainNumber(plan.markUDeg, 2)}°<small class="below">standard uncertainty u</small></dd></div>
          <div class="figure"><dt>Marks to make</dt><dd>{plan.marks}<small class="below">after the start mark</small></dd></div>
          <div class="figure"><dt>Time it takes</dt><dd>{durationText(plan.timeS)}<small class="below">{setup.dwellS} s a mark, with stepping, settling and run-up</small></dd></div>
        </dl>
        <button type="button" class="main onward" onClick={() => goTo('print')}>Next: print the sheet</button>
      </section>
      {plan.warnings.length > 0 && <section class="card"><h2>Keep in mind</h2><ul>{plan.warnings.map((warning) => <li key={warning}>{inFields(warning)}</li>)}</ul></section>}
      <section class="card"><h2>In this order</h2><ol>{plan.order.map((line) => <li key={line}>{line}</li>)}</ol></section>
      <section class="card"><h2>So that nobody gets hurt</h2>{plan.cautions.map(({ key, title, text }) => <details key={key}><summary>{title}</summary><p>{text}</p></details>)}</section>
    </>
  )
}

/** Plan: what the rig will be able to show, before anyone picks up a pen. */
export const Plan = () => {
  const work = useStore(bench, (state) => state.work)
  const [pen, setPen] = useKept('pen', '0.5')
  const [hand, setHand] = useKept('hand', '0.2')
  const [span, setSpan] = useKept('span', '')
  const [dwell, setDwell] = useKept('dwell', String(usualDwellS))
  const setUp = work && setUpOfWork(work)
  const ready = setUp && !isUnmeasurable(setUp) && setUp.stepsPerRev !== undefined && setUp.microsteps !== undefined
  const mirror = work?.setUp['rig'] === 'mirror'
  const setup = ready ? setupOf() : null
  const plan = setup && planTest(setup)

  function setupOf(): PlanSetup {
    if (!setUp || isUnmeasurable(setUp)) throw new TypeError('expected a set-up')
    const rig: PlannedRig = mirror
      ? { kind: 'mirror', distanceMm: setUp.distanceMm?.value ?? 1500, distanceUMm: setUp.distanceMm?.u ?? 3, footUMm: 10, spotMm: 3, ratio: setUp.ratio ?? 2 }
      : { kind: 'pointer', lengthMm: setUp.radiusMm?.value ?? 80, pivotUMm: 0.5 }
    const { stepsPerRev = 200, microsteps = 16 } = setUp
    return { stepsPerRev, microsteps, rig, gearRatio: gearRatio(setUp.gears ?? []), markUMm: numberOf(hand, 0.2), lineMm: numberOf(pen, 0.5), fullSteps: Math.round(numberOf(span, mirror ? 8 : stepsPerRev)), passes: 1, bothWays: false, dwellS: numberOf(dwell, usualDwellS), expectedErrorShare: 0.035, wantedHalfWidth: null }
  }

  return (
    <div class="columns">
      <section class="card" aria-label="What is planned">
        <div class="fields">
          <SetUpField name="motor" hint="such as rail-2" />
          <SetUpField name="steps-per-rev" hint="48, 200 …" number />
          <SetUpField name="microsteps" hint="4, 8, 16 …" number />
          <label class="field"><span>Rig</span><select value={mirror ? 'mirror' : 'pointer'} onChange={({ currentTarget }) => setField('rig', currentTarget.value)}><option value="pointer">Pointer over paper</option><option value="mirror">Light spot on a wall</option></select><small>a wall far away tells finer steps apart</small></label>
          {mirror ? <SetUpField name="distance" hint="1500 mm when left empty" /> : <SetUpField name="radius" hint="80 mm when left empty" />}
          <SetUpField name="gears" hint="none, or 17:8" />
          <NumberField label="Full steps to cover" value={span} set={setSpan} hint={mirror ? '8 when left empty' : 'a whole turn when left empty'} />
          <NumberField label="Pen line" value={pen} set={setPen} unit="mm" />
          <NumberField label="How well a mark is placed" value={hand} set={setHand} unit="mm" hint="standard uncertainty" />
          <NumberField label="Time at each mark" value={dwell} set={setDwell} unit="s" />
        </div>
        <RigDrawing rig={mirror ? 'mirror' : 'pointer'} />
      </section>
      <div class="review-side">
        {plan === null && <section class="card"><p class="hint">Give the full steps per turn and the microsteps; the plan appears here as you type. A motor of unknown steps: count the steps of one turn of its shaft.</p></section>}
        {setup && plan && (isUnmeasurable(plan) ? <Wrong why={plan} /> : <Told plan={plan} setup={setup} />)}
      </div>
    </div>
  )
}
