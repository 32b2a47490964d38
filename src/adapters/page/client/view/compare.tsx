import { useState } from 'preact/hooks'
import { bench, theBackend } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { keyFigures } from '#core/report/key-figures'
import type { Result } from '#core/report/result-schema'
import { verdictHeadline } from '#core/report/verdict-sentence'
import { ScrollBox } from './scroll-box.tsx'

/** This result beside earlier ones of the project. */
export const Compare = ({ result }: { readonly result: Result }) => {
  const evidence = useStore(bench, (state) => state.project?.evidence ?? [])
  const [others, setOthers] = useState<readonly { readonly id: string; readonly result: Result }[]>([])
  const add = async (id: string): Promise<void> => {
    if (others.some((other) => other.id === id)) return setOthers(others.filter((other) => other.id !== id))
    const read = await theBackend().evidence(id)
    if (read) setOthers([...others, { id, result: read }])
  }
  const columns = [{ id: 'now', result }, ...others]
  const names = keyFigures(result).map(({ name }) => name)
  return (
    <section class="card">
      <h2>Beside earlier ones</h2>
      {evidence.length === 0 ? <p class="hint">No evidence has been saved in this project yet.</p> : (
        <fieldset class="buttons" aria-label="Earlier results">{evidence.map((id) => <button type="button" key={id} aria-pressed={others.some((other) => other.id === id)} onClick={() => void add(id)}>{id}</button>)}</fieldset>
      )}
      {others.length > 0 && (
        <ScrollBox label="Comparison">
          <table class="table">
            <thead><tr><th scope="col">Figure</th>{columns.map(({ id, result: each }) => <th key={id} scope="col">{id === 'now' ? 'now' : id}<br /><small>{each.motor.name}</small></th>)}</tr></thead>
            <tbody>
              <tr><th scope="row">verdict</th>{columns.map(({ id, result: each }) => <td key={id}>{verdictHeadline(each)}</td>)}</tr>
              {names.map((name, i) => <tr key={name}><th scope="row">{name}</th>{columns.map(({ id, result: each }) => <td key={id}>{keyFigures(each)[i]?.text ?? '–'}</td>)}</tr>)}
            </tbody>
          </table>
        </ScrollBox>
      )}
    </section>
  )
}
