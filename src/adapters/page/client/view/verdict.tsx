import { useMemo } from 'preact/hooks'
import { bench } from '#adapters/page/client/app/bench'
import { inFields } from '#adapters/page/client/app/remedy-on-page'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { ModesTable } from './modes-table.tsx'
import { Plots } from './plots.tsx'
import { toneOf, toneSigns } from './tone.ts'
import { Wrong } from './wrong.tsx'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { keyFigures } from '#core/report/key-figures'
import { plainNumber, valueAndU } from '#core/report/number-text'
import { plotSet } from '#core/report/plots/plot-set'
import type { Result } from '#core/report/result-schema'
import { effectiveSentence, verdictHeadline, verdictReason } from '#core/report/verdict-sentence'
import { ScrollBox } from './scroll-box.tsx'

const Causes = ({ result: { motorFit, figures } }: { readonly result: Result }) => {
  const explained = useStore(bench, (state) => state.explained)
  const real = figures.harmonics.filter(({ significant }) => significant)
  return (
    <section class="card" id="cause">
      <h2>What is behind it</h2>
      {!explained && <p class="hint" role="status">Looking for the cause in the motor…</p>}
      {motorFit && <p>{motorFit.finding.text}</p>}
      {real.length === 0 ? <p>No part of the error repeats strongly enough to name a cause.</p> : (
        <><p>What repeats in the error, as a wave, with twice its standard error:</p><ul>{real.map(({ order, about, amplitudeDeg, standardErrorDeg }) => <li key={`${about}${order}`}>{valueAndU(amplitudeDeg, 2 * standardErrorDeg)}°, {order === 1 ? 'once' : `${order} times`} per {about}</li>)}</ul></>
      )}
    </section>
  )
}

const Budget = ({ result: { uncertainty } }: { readonly result: Result }) => (
  <section class="card" id="sure">
    <h2>How sure the marks are</h2>
    <p>What makes the angle of a mark uncertain, as standard uncertainties (u) at the motor’s shaft. What is said with ± U is {plainNumber(uncertainty.coverageFactor, 3)} times as much.</p>
    <table class="table">
      <thead><tr><th scope="col">From</th><th scope="col">u, °</th><th scope="col">Kind</th></tr></thead>
      <tbody>{uncertainty.contributions.map(({ source, uDeg, kind }) => <tr key={source}><th scope="row">{source}</th><td class="num">{plainNumber(uDeg, 2)}</td><td>{kind === 'mark' ? 'each mark its own' : 'shared by neighbours'}</td></tr>)}</tbody>
    </table>
  </section>
)

const parts = [['modes', 'Modes'], ['figures', 'Figures'], ['cause', 'Cause'], ['plots', 'Plots'], ['sure', 'How sure']] as const

/** The way to each part of a long page; the address keeps naming the step. */
const Contents = () => (
  <nav class="contents no-print" aria-label="On this page">
    {parts.map(([id, name]) => <button key={id} type="button" class="plain" onClick={() => document.getElementById(id)?.scrollIntoView()}>{name}</button>)}
  </nav>
)

const Shown = ({ result }: { readonly result: Result }) => {
  const plots = useMemo(() => plotSet(result), [result])
  const tone = toneOf(result)
  return (
    <>
      <section id="verdict" class={`verdict is-${tone}`}>
        <span class="verdict-sign" aria-hidden="true">{toneSigns[tone]}</span>
        <div>
          <p class="verdict-words">{verdictHeadline(result)}</p>
          <p>{inFields(verdictReason(result))}</p>
          <p>{effectiveSentence(result)}</p>
        </div>
      </section>
      <div class="buttons no-print">
        <button type="button" class="main" onClick={() => goTo('note')}>Keep the evidence</button>
        <button type="button" onClick={() => goTo('machine')}>What it gives at the carriage</button>
        <button type="button" onClick={() => goTo('compare')}>Beside other motors</button>
        <button type="button" onClick={() => print()}>Print this</button>
      </div>
      <Contents />
      {result.warnings.length > 0 && <section class="card"><h2>Keep in mind</h2><ul>{result.warnings.map((warning) => <li key={warning}>{inFields(warning)}</li>)}</ul></section>}
      <section class="card" id="modes"><h2>Mode by mode</h2><p>A mode holds when each of its steps is between half and one and a half times its nominal size, beyond what the marks leave uncertain.</p><ScrollBox label="Step modes"><ModesTable modes={result.modes} /></ScrollBox></section>
      <section class="card" id="figures"><h2>Figures</h2><dl class="lines">{keyFigures(result).map(({ name, text, meaning }) => <div key={name}><dt>{name}<small>{meaning}</small></dt><dd>{text}</dd></div>)}</dl></section>
      <Causes result={result} />
      <div id="plots"><Plots plots={plots} /></div>
      <Budget result={result} />
    </>
  )
}

/** Verdict first, then why, then everything it rests on. */
export const Verdict = () => {
  const outcome = useStore(bench, (state) => state.outcome)
  if (!outcome) return <section class="card"><p class="hint" role="status">Measuring…</p></section>
  if (isUnmeasurable(outcome))
    return <section class="card"><p class="headline">There is no verdict yet.</p><Wrong why={outcome} /><button type="button" class="main" onClick={() => goTo('marks')}>To the marks</button></section>
  return <Shown result={outcome} />
}
