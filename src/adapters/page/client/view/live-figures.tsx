import { bench, resultOf } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { Wrong } from './wrong.tsx'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { verdictHeadline } from '#core/report/verdict-sentence'
import { live } from '#adapters/page/client/marks/live'

const Figure = ({ name, value, unit }: { readonly name: string; readonly value: string; readonly unit: string }) => (
  <div class="figure"><dt>{name}</dt><dd>{value} <small>{unit}</small></dd></div>
)

/** The figures that matter, following the hand. */
export const LiveFigures = () => {
  const outcome = useStore(bench, (state) => state.outcome)
  const measuring = useStore(bench, (state) => state.measuring)
  const quick = useStore(live, (state) => state.rests?.figures)
  if (outcome && isUnmeasurable(outcome)) return <Wrong why={outcome} />
  const result = resultOf({ ...bench.get(), outcome })
  if (!result) return <p class="hint" role="status">Measuring…</p>
  const { figures } = result
  const count = (value: number | null | undefined): string => (value === null || value === undefined ? '–' : String(value))
  return (
    <section class={`card live ${measuring || quick ? 'settling' : ''}`} aria-label="Figures as the marks stand">
      <p class="headline">{quick ? 'Following your hand…' : verdictHeadline(result)}</p>
      <dl class="figures">
        <Figure name="Effective microsteps" value={(quick?.effectiveMicrosteps ?? figures.effectiveMicrosteps.value).toFixed(2)} unit={`of ${result.motor.microsteps}`} />
        <Figure name="Error, peak to peak" value={(quick?.peakToPeakDeg ?? figures.positionErrorPeakToPeakDeg).toFixed(3)} unit="°" />
        <Figure name="Merged" value={count(figures.merged === null ? null : (quick?.merged ?? figures.merged))} unit="commands" />
        <Figure name="Reversed" value={count(figures.reversed === null ? null : (quick?.reversed ?? figures.reversed))} unit="commands" />
      </dl>
    </section>
  )
}
