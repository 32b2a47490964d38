import { useState } from 'preact/hooks'
import { bench, refreshProject, resultOf, say, theBackend } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { useKept } from '#adapters/page/client/app/kept'
import { Wrong } from './wrong.tsx'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { verdictSentence } from '#core/report/verdict-sentence'

const failed = (error: unknown): Unmeasurable => unmeasurable(error instanceof Error ? error.message : 'something went wrong', 'the evidence', 'try again')

const Changes = () => {
  const applied = useStore(bench, (state) => state.work?.applied ?? 0)
  const source = useStore(bench, (state) => state.work?.source)
  if (source !== 'photo') return null
  return <p class="hint">{applied === 0 ? 'The marks are just as the tool found them.' : `The evidence tells what the tool found and each of your ${applied} changes.`}</p>
}

/** Note: the evidence to the project, and the outcome into a parts note. */
export const Note = () => {
  const result = useStore(bench, resultOf)
  const project = useStore(bench, (state) => state.project)
  const saving = useStore(bench, (state) => state.saving)
  const [where, setWhere] = useState('')
  const [noted, setNoted] = useState('')
  const [busy, setBusy] = useState(false)
  const [wrong, setWrong] = useState<Unmeasurable | null>(null)
  const [note, setNote] = useKept('note', 'parts')
  if (!result) return <section class="card"><p class="hint">Evidence follows from a measured motor.</p><button type="button" class="main" onClick={() => goTo('marks')}>To the marks</button></section>

  const run = async (job: () => Promise<{ readonly where: string } | Unmeasurable>, done: (where: string) => void): Promise<void> => {
    setBusy(true)
    setWrong(null)
    const outcome = await job().catch(failed)
    setBusy(false)
    if (isUnmeasurable(outcome)) return setWrong(outcome)
    done(outcome.where)
    say(`Written: ${outcome.where}`)
    await refreshProject()
  }
  const { id, work } = bench.get()
  const keep = (): Promise<void> => run(() => theBackend().saveEvidence(id ?? '', work as never, result), setWhere)
  const put = (): Promise<void> => run(() => theBackend().putNote(id ?? '', note), setNoted)

  return (
    <div class="columns">
      <section class="card">
        <h2>Evidence</h2>
        <p>{verdictSentence(result)}</p>
        <Changes />
        <button type="button" class="main huge" disabled={busy || saving !== 'saved'} onClick={() => void keep()}>{busy ? 'Writing…' : saving === 'saved' ? 'Save the evidence' : 'Saving the test first…'}</button>
        {where && <p class="written" role="status">✓ Saved: <strong>{where}</strong></p>}
        {where && project && <p class="hint">In {project.folder}. Open report.html there: it works without the bench.</p>}
        {wrong && <Wrong why={wrong} />}
      </section>
      <section class="card">
        <h2>Parts note</h2>
        <p>The outcome goes between two markers in a note of yours; everything around them stays as it is.</p>
        <label class="field"><span>Note</span><input list="notes" value={note} onInput={({ currentTarget }) => setNote(currentTarget.value)} /><small>a file in notes/, made when it is new</small></label>
        <datalist id="notes">{(project?.notes ?? []).map((name) => <option key={name} value={name.replace(/\.md$/, '')} />)}</datalist>
        <button type="button" disabled={busy || note.trim() === '' || !project?.canNote || (where === '' && !project.evidence.includes(id ?? ''))} onClick={() => void put()}>Put it into the note</button>
        {noted && <p class="written" role="status">✓ Written: <strong>{noted}</strong></p>}
        {where === '' && !project?.evidence.includes(id ?? '') && <p class="hint">Save the evidence first.</p>}
      </section>
    </div>
  )
}
