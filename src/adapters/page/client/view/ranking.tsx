import { useEffect, useState } from 'preact/hooks'
import { useStore } from '#adapters/page/client/app/store'
import { isDark, theme } from '#adapters/page/client/app/theme'
import { MeasuredValue } from './measured-value.tsx'
import { ScrollBox } from './scroll-box.tsx'
import type { Comparison, Pair, Ranked } from '#core/decide/compare/compare-motors'
import type { Met } from '#core/decide/compare/requirement'
import { modeName } from '#core/decide/recommend'
import { compareFigure } from '#core/report/compare/compare-figure'
import { onDark } from '#core/report/figures/on-dark'
import { plainNumber, ratioText, valueAndU } from '#core/report/number-text'

const looks: Readonly<Record<Met, readonly [sign: string, word: string, look: string]>> = { meets: ['●', 'meets it', 'holds'], open: ['◐', 'not proven', 'not-proven'], misses: ['✕', 'misses it', 'fails'] }

const Row = ({ ranked, asked }: { readonly ranked: Ranked; readonly asked: boolean }) => {
  const [sign, word, look] = looks[ranked.met]
  return (
    <tr class={asked ? `mode-${look}` : ''}>
      <td class="num">{ranked.rank}</td>
      <th scope="row">{ranked.label}<small>{ranked.stepsPerRev} steps × 1/{ranked.microsteps}</small></th>
      {asked && <td class="mode-verdict"><span aria-hidden="true">{sign}</span> {word}</td>}
      <td><MeasuredValue of={ranked.positionsPerTurn} /></td>
      <td><MeasuredValue of={ranked.effective} /></td>
      <td>{ranked.bestMode === null ? 'none' : modeName(ranked.bestMode)}</td>
      <td>{ranked.reversal ? `${valueAndU(ranked.reversal.deg, 2 * ranked.reversal.uDeg)}°` : '–'}</td>
    </tr>
  )
}

const Missed = ({ ranked }: { readonly ranked: readonly Ranked[] }) => {
  const lines = ranked.flatMap(({ label, checks }) => checks.filter(({ met }) => met !== 'meets').map((check) => ({ label, ...check })))
  return lines.length === 0 ? null : <ul>{lines.map(({ label, need, met, found }) => <li key={`${label}${need}`}><strong>{label}</strong>: {need}: {met === 'misses' ? 'missed' : 'not proven'} ({found}).</li>)}</ul>
}

const chance = (p: number): string => (p < 0.001 ? 'below 0.001' : plainNumber(p, 2))

const PairLine = ({ pair: { first, second, ratio, ratioInterval, pCorrected, differ, method }, count }: { readonly pair: Pair; readonly count: number }) => (
  <li><strong>{first}</strong> has {ratioText({ ratio, ratioInterval })} times the effective positions of <strong>{second}</strong>: {differ ? 'a real difference' : 'these marks cannot tell them apart'} <br /><small>chance of so large a difference by luck alone: {chance(pCorrected)} ({method}; p-value with Holm’s correction for {count === 1 ? 'one pair' : `${count} pairs`})</small></li>
)

/** The ranking drawn: an image as the command writes it, on the page’s own paper. */
const Drawn = ({ comparison }: { readonly comparison: Comparison }) => {
  const [url, setUrl] = useState('')
  const turn = useStore(theme, (state) => state.turn)
  useEffect(() => {
    const { svg } = compareFigure(comparison)
    const next = URL.createObjectURL(new Blob([isDark() ? onDark(svg) : svg], { type: 'image/svg+xml' }))
    setUrl(next)
    return () => URL.revokeObjectURL(next)
  }, [comparison, turn])
  return url ? <ScrollBox label="Ranking, drawn"><div class="drawn"><img src={url} alt="Effective positions per turn of each result with its 95 % interval; the same figures stand in the table" /></div></ScrollBox> : null
}

/** Results that stand below the first only by what the marks leave open. */
const nearFirst = ({ ranked: [first], pairs }: Comparison): string => {
  const near = pairs.filter((pair) => !pair.differ && (pair.first === first?.label || pair.second === first?.label)).map((pair) => (pair.first === first?.label ? pair.second : pair.first))
  return near.length === 0 ? '' : `, not told apart from ${near.length > 2 ? `${near.length} others` : near.join(' and ')}`
}

/** Ranked for a requirement, best first; what is missed, and which differences are real. */
export const Ranking = ({ comparison }: { readonly comparison: Comparison }) => {
  const { ranked, pairs, requirement } = comparison
  const asked = Object.values(requirement).some((need) => need !== null)
  const [first] = ranked
  const meets = ranked.filter(({ met }) => met === 'meets').length
  const headline = !asked ? `Most effective positions: ${first?.label ?? ''}${nearFirst(comparison)}` : meets === 0 ? 'None is proven to meet it.' : `${first?.label ?? ''} meets it${meets > 1 ? `, and ${meets - 1} more` : ''}.`
  return (
    <>
      <section class={`card verdict-card ${!asked ? '' : meets > 0 ? 'is-good' : 'is-open'}`} role="status">
        <p class="headline">{headline}</p>
        <p class="hint">{asked ? 'Those that meet the requirement come first, then those that may, then those that miss it; within each, the most effective positions per turn first.' : 'Ranked by effective positions per turn, which is fair to motors of different full steps. Say what the machine needs to rank them for it.'}</p>
        <Missed ranked={ranked} />
      </section>
      <section class="card">
        <h2>Ranking</h2>
        <ScrollBox label="Ranking">
          <table class="table ranking">
            <thead><tr><th scope="col">#</th><th scope="col">Result</th>{asked && <th scope="col">Requirement</th>}<th scope="col">Effective positions per turn (95 %)</th><th scope="col">Effective microsteps (95 %)</th><th scope="col">Holds</th><th scope="col">Reversal (± U)</th></tr></thead>
            <tbody>{ranked.map((each) => <Row key={each.label} ranked={each} asked={asked} />)}</tbody>
          </table>
        </ScrollBox>
        <Drawn comparison={comparison} />
      </section>
      {pairs.length > 0 && <section class="card"><h2>Can they be told apart?</h2><ul>{pairs.map((pair) => <PairLine key={`${pair.first} ${pair.second}`} pair={pair} count={pairs.length} />)}</ul></section>}
    </>
  )
}
