import { useEffect, useMemo, useState } from 'preact/hooks'
import { bench, resultOf, theBackend } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { useKept } from '#adapters/page/client/app/kept'
import { CompareFields, needNames, useNeeds } from './compare-needs.tsx'
import { Ranking } from './ranking.tsx'
import { ScrollBox } from './scroll-box.tsx'
import { Wrong } from './wrong.tsx'
import { compareMotors } from '#core/decide/compare/compare-motors'
import { readNeeds } from '#core/decide/compare/read-needs'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { comparedFrom, labelsFor } from '#core/report/compare/compared-from-result'
import { keyFigures } from '#core/report/key-figures'
import type { Result } from '#core/report/result-schema'
import { verdictHeadline } from '#core/report/verdict-sentence'

interface Named {
  readonly id: string
  readonly result: Result
}

const most = 12

/** Saved evidence of the project, read when it is wanted. */
const useEvidence = (ids: readonly string[]): readonly Named[] => {
  const [read, setRead] = useState<readonly Named[]>([])
  const wanted = ids.join('\n')
  useEffect(() => {
    let gone = false
    const missing = ids.filter((id) => !read.some((each) => each.id === id))
    const all = missing.map(async (id) => ({ id, result: await theBackend().evidence(id).catch(() => null) }))
    void Promise.all(all).then((found) => {
      const known = found.flatMap(({ id, result }) => (result ? [{ id, result }] : []))
      if (!gone && known.length > 0) setRead((before) => [...before, ...known])
    })
    return () => { gone = true }
  }, [wanted])
  return ids.flatMap((id) => read.filter((each) => each.id === id))
}

const Side = ({ motors, labels }: { readonly motors: readonly Named[]; readonly labels: readonly string[] }) => {
  const figures = motors.map(({ result }) => new Map(keyFigures(result).map(({ name, text }) => [name, text])))
  const names = [...new Set(figures.flatMap((each) => [...each.keys()]))]
  return (
    <section class="card">
      <h2>Figure by figure</h2>
      <ScrollBox label="Figures side by side">
        <table class="table side">
          <thead><tr><th scope="col">Figure</th>{labels.map((label) => <th key={label} scope="col">{label}</th>)}</tr></thead>
          <tbody>
            <tr><th scope="row">verdict</th>{motors.map(({ id, result }) => <td key={id}>{verdictHeadline(result)}</td>)}</tr>
            {names.map((name) => <tr key={name}><th scope="row">{name}</th>{figures.map((each, i) => <td key={labels[i]}>{each.get(name) ?? '–'}</td>)}</tr>)}
          </tbody>
        </table>
      </ScrollBox>
    </section>
  )
}

const Chosen = ({ ids, chosen, toggle, now }: { readonly ids: readonly string[]; readonly chosen: readonly string[]; readonly toggle: (id: string) => void; readonly now: boolean }) => (
  <fieldset class="card">
    <legend>Which results</legend>
    {now && <p class="hint">The test on the bench is among them as it stands now.</p>}
    {ids.length === 0 ? <p class="hint">No other evidence is in this project yet. Measure a second motor, or the same one with another current or driver, and save its evidence.</p> : (
      ids.map((id) => <label key={id} class="check"><input type="checkbox" checked={chosen.includes(id)} onChange={() => toggle(id)} /> {id}</label>)
    )}
  </fieldset>
)

const Compared = ({ motors }: { readonly motors: readonly Named[] }) => {
  const [texts] = useNeeds()
  const labels = useMemo(() => labelsFor(motors.map(({ result }) => result), motors.map(({ id }) => id)), [motors])
  const needs = readNeeds(texts, needNames)
  const comparison = isUnmeasurable(needs) ? null : compareMotors(motors.map(({ result }, i) => comparedFrom(result, labels[i] ?? '')), needs.requirement)
  return (
    <>
      {isUnmeasurable(needs) && <Wrong why={needs} />}
      {comparison && <Ranking comparison={comparison} />}
      {motors.length > 1 && <Side motors={motors} labels={labels} />}
    </>
  )
}

/** Compare: results of the project ranked for what the machine needs, with what can be told apart and what cannot. */
export const Compare = () => {
  const now = useStore(bench, resultOf)
  const id = useStore(bench, (state) => state.id ?? '')
  const all = useStore(bench, (state) => state.project?.evidence ?? [])
  const [left, setLeft] = useKept('compare-without', '')
  const out = left.split('\n')
  const ids = all.filter((each) => !(now && each === id))
  const chosen = ids.filter((each) => !out.includes(each)).slice(0, most)
  const read = useEvidence(chosen)
  const motors = useMemo(() => [...(now ? [{ id, result: now }] : []), ...read], [now, id, read.map((each) => each.id).join('\n')])
  const toggle = (each: string): void => setLeft((chosen.includes(each) ? [...out, each] : out.filter((other) => other !== each)).join('\n'))
  return (
    <div class="compare-page">
      <CompareFields />
      <Chosen ids={ids} chosen={chosen} toggle={toggle} now={now !== null} />
      <div class="review-side">
        {motors.length === 0 ? <section class="card"><p class="hint">There is nothing to rank yet.</p></section> : <Compared motors={motors} />}
      </div>
    </div>
  )
}
