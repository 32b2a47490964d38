import { bench, resultOf } from '#adapters/page/client/app/bench'
import { place } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { toneOf, toneSigns } from './tone.ts'
import { verdictHeadline } from '#core/report/verdict-sentence'

/** The verdict in one line that stays in sight whatever is scrolled, and leads to the whole of it. */
export const VerdictStrip = () => {
  const result = useStore(bench, resultOf)
  const measuring = useStore(bench, (state) => state.measuring)
  const step = useStore(place, (state) => state.step)
  if (!result) return null
  const tone = toneOf(result)
  return (
    <a class={`strip is-${tone} ${measuring ? 'settling' : ''}`} href="#verdict" aria-current={step === 'verdict' ? 'page' : undefined}>
      <span class="verdict-sign" aria-hidden="true">{toneSigns[tone]}</span> {verdictHeadline(result)}
    </a>
  )
}
