import { bench, resultOf } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { Wrong } from './wrong.tsx'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { decimalsBetween, fixed, intervalText } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { verdictHeadline } from '#core/report/verdict-sentence'
import type { QuickFigures } from '#core/review/quick-figures'
import { live } from '#adapters/page/client/marks/live'

interface Shown {
  readonly name: string
  readonly value: string
  readonly unit: string
  /** Its uncertainty, or what else a reader must know; the place is kept while a hand is moving. */
  readonly sure: string
}

const Figure = ({ name, value, unit, sure }: Shown) => (
  <div class="figure"><dt>{name}</dt><dd>{value}{unit === '°' ? '°' : <small> {unit}</small>}<small class="below">{sure}</small></dd></div>
)

const count = (value: number | null | undefined): string => (value === null || value === undefined ? '–' : String(value))

const figuresOf = (result: Result, quick: QuickFigures | undefined): readonly Shown[] => {
  const { figures, motor, assignment } = result
  const { value, low, high } = figures.effectiveMicrosteps
  const spread = figures.sizeIntervals?.positionErrorPeakToPeakDeg ?? null
  const decimals = spread && spread[1] > spread[0] ? decimalsBetween(...spread) : 3
  const still = (text: string): string => (quick ? '…' : text)
  const counted = (kind: 'merged' | 'reversed'): string => count(figures[kind] === null ? null : (quick?.[kind] ?? figures[kind]))
  const judged = figures.merged === null ? 'not judged: marks too coarse' : `of ${assignment.commands} commands`
  return [
    { name: 'Effective microsteps', value: fixed(quick?.effectiveMicrosteps ?? value, decimalsBetween(low, high)), unit: `of ${motor.microsteps}`, sure: still(`95 %: ${intervalText([low, high])}`) },
    { name: 'Error, peak to peak', value: fixed(quick?.peakToPeakDeg ?? figures.positionErrorPeakToPeakDeg, decimals), unit: '°', sure: still(spread ? `95 %: ${intervalText(spread)}°` : '') },
    { name: 'Merged', value: counted('merged'), unit: '', sure: judged },
    { name: 'Reversed', value: counted('reversed'), unit: '', sure: judged },
  ]
}

/** The figures that matter, following the hand. */
export const LiveFigures = () => {
  const outcome = useStore(bench, (state) => state.outcome)
  const measuring = useStore(bench, (state) => state.measuring)
  const quick = useStore(live, (state) => state.rests?.figures)
  if (outcome && isUnmeasurable(outcome)) return <Wrong why={outcome} />
  const result = resultOf({ ...bench.get(), outcome })
  if (!result) return <p class="hint" role="status">Measuring…</p>
  return (
    <section class={`card live ${measuring || quick ? 'settling' : ''}`} aria-label="Figures as the marks stand">
      <p class="headline">{quick ? 'Following your hand…' : verdictHeadline(result)}</p>
      <dl class="figures">{figuresOf(result, quick).map((figure) => <Figure key={figure.name} {...figure} />)}</dl>
    </section>
  )
}
