import { useRef, useState } from 'preact/hooks'
import { bench, refreshProject, resultOf, say, theBackend } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { useKept } from '#adapters/page/client/app/kept'
import { LongWork } from './long-work.tsx'
import { NeedsMarks } from './needs-marks.tsx'
import { Wrong } from './wrong.tsx'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { verdictSentence } from '#core/report/verdict-sentence'

type Written = { readonly where: string } | Unmeasurable

const failed = (error: unknown): Unmeasurable => unmeasurable(error instanceof Error ? error.message : 'something went wrong', 'the evidence', 'try again')

const Changes = () => {
  const applied = useStore(bench, (state) => state.work?.applied ?? 0)
  const source = useStore(bench, (state) => state.work?.source)
  if (source !== 'photo') return null
  return <p class="hint">{applied === 0 ? 'The marks are just as the tool found them.' : `The evidence tells what the tool found and each of your ${applied} changes.`}</p>
}

/** One thing that is written: where it went, or why not. Stopping leaves what was there before. */
const useWriting = () => {
  const [state, setState] = useState<{ readonly busy: boolean; readonly where: string; readonly wrong: Unmeasurable | null }>({ busy: false, where: '', wrong: null })
  const stopper = useRef<AbortController | null>(null)
  const run = async (job: (stop: AbortSignal) => Promise<Written>): Promise<void> => {
    const now = new AbortController()
    stopper.current = now
    setState({ busy: true, where: '', wrong: null })
    const outcome = await job(now.signal).catch((error: unknown) => (error instanceof DOMException && error.name === 'AbortError' ? null : failed(error)))
    if (outcome === null || now.signal.aborted) {
      setState({ busy: false, where: '', wrong: null })
      document.getElementById('work')?.focus({ preventScroll: true })
      return say('Stopped. What was saved before is as it was.')
    }
    setState(isUnmeasurable(outcome) ? { busy: false, where: '', wrong: outcome } : { busy: false, where: outcome.where, wrong: null })
    if (!isUnmeasurable(outcome)) say(`Written: ${outcome.where}`)
    await refreshProject()
    if (document.activeElement === document.body) document.getElementById('work')?.focus({ preventScroll: true })
  }
  return { ...state, run, stop: () => stopper.current?.abort() }
}

type Writing = ReturnType<typeof useWriting>

/** Opens the saved report beside the bench. */
const openReport = async (id: string): Promise<void> => {
  const address = await theBackend().report(id).catch(() => null)
  if (address === null) return say('The report is not there any more: save the evidence again.')
  window.open(address, '_blank', 'noopener')
}

const Evidence = ({ result, writing, kept }: { readonly result: Result; readonly writing: Writing; readonly kept: boolean }) => {
  const folder = useStore(bench, (state) => state.project?.folder ?? '')
  const saving = useStore(bench, (state) => state.saving)
  const served = theBackend().kind === 'server'
  const { busy, where, wrong, run, stop } = writing
  const keep = (): void => {
    const { id, work } = bench.get()
    if (id && work) void run((signal) => theBackend().saveEvidence(id, work, signal))
  }
  return (
    <section class="card">
      <h2>Evidence</h2>
      <p>{verdictSentence(result)}</p>
      <Changes />
      {busy ? <LongWork step="Measuring once more with the cause, drawing the figures, writing…" stop={stop} /> : (
        <button type="button" class="main huge" disabled={saving !== 'saved'} onClick={keep}>{saving === 'saved' ? 'Save the evidence' : 'Saving the test first…'}</button>
      )}
      {where && <p class="written" role="status">✓ Saved: <strong>{where}</strong></p>}
      {kept && served && !busy && <div class="buttons"><button type="button" onClick={() => void openReport(bench.get().id ?? '')}>Open the report</button></div>}
      {where && <p class="hint">{served ? <>In <code>{folder}</code>. Its report.html works without the bench, too.</> : 'It holds the folders tests and evidence of a project. Open report.html among the evidence: it works without this page and without a network.'}</p>}
      {!where && !busy && <p class="hint">A folder with the report, the figures as pictures, the marks and the result: all that someone else needs to check it.</p>}
      {wrong && <Wrong why={wrong} />}
    </section>
  )
}

const PartsNote = ({ kept, writing }: { readonly kept: boolean; readonly writing: Writing }) => {
  const project = useStore(bench, (state) => state.project)
  const [note, setNote] = useKept('note', 'parts')
  const { busy, where, wrong, run } = writing
  const put = (): void => void run(() => theBackend().putNote(bench.get().id ?? '', note))
  return (
    <section class="card">
      <h2>Parts note</h2>
      <p>The outcome goes between two marker lines in a note of yours; everything around them stays as it is. Doing it again refreshes those lines.</p>
      <label class="field"><span>Note</span><input list="notes" value={note} onInput={({ currentTarget }) => setNote(currentTarget.value)} /><small>a Markdown file in notes/, begun when it is new</small></label>
      <datalist id="notes">{(project?.notes ?? []).map((name) => <option key={name} value={name.replace(/\.md$/, '')} />)}</datalist>
      <button type="button" disabled={busy || note.trim() === '' || !project?.canNote || !kept} onClick={put}>Put it into the note</button>
      {!kept && <p class="hint">Save the evidence first: the note points to it.</p>}
      {where && <p class="written" role="status">✓ Written: <strong>{where}</strong></p>}
      {wrong && <Wrong why={wrong} />}
    </section>
  )
}

/** Note: the evidence to the project, and the outcome into a parts note. */
export const Note = () => {
  const result = useStore(bench, resultOf)
  const evidence = useWriting()
  const noted = useWriting()
  const id = useStore(bench, (state) => state.id ?? '')
  const before = useStore(bench, (state) => state.project?.evidence.includes(id) ?? false)
  const kept = before || evidence.where !== ''
  if (!result) return <NeedsMarks what="Evidence follows from a measured motor." />
  return (
    <>
      <div class="columns">
        <Evidence result={result} writing={evidence} kept={kept} />
        <PartsNote kept={kept} writing={noted} />
      </div>
      {before && <div class="buttons"><button type="button" onClick={() => goTo('compare')}>Beside other motors</button></div>}
    </>
  )
}
