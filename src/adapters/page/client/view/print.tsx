import { useEffect, useState } from 'preact/hooks'
import { bench, theBackend } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'
import { useKept } from '#adapters/page/client/app/kept'
import type { SheetOrder } from '#core/prepare/sheet/drawn-pages'
import { notPrintedText } from '#core/prepare/sheet/page-words'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { setUpOfWork } from '#core/review/trace-of-work'

const orderOf = (paper: string): SheetOrder => {
  const { work } = bench.get()
  const read = work && setUpOfWork(work)
  const setUp = read && !isUnmeasurable(read) ? read : {}
  const mirror = work?.setUp['rig'] === 'mirror'
  return {
    rig: mirror ? 'mirror' : 'pointer',
    paper: paper === 'letter' ? 'letter' : 'a4',
    lengthMm: (mirror ? setUp.distanceMm?.value : setUp.radiusMm?.value) ?? (mirror ? 1500 : 80),
    motor: setUp.motor ?? work?.name ?? '',
    stepsPerRev: setUp.stepsPerRev ?? null,
    microsteps: setUp.microsteps ?? null,
  }
}

/** Print: the sheet that carries the set-up, so that a photo of it says everything by itself. */
export const Print = () => {
  const [paper, setPaper] = useKept('paper', 'a4')
  const [sheet, setSheet] = useState<{ readonly url: string; readonly kb: number; readonly notPrinted: string } | null>(null)
  const [wrong, setWrong] = useState('')
  const [busy, setBusy] = useState(false)
  useStore(bench, (state) => state.work?.setUp)
  const order = orderOf(paper)
  // A sheet drawn before something changed is no longer the one that is shown.
  useEffect(() => setSheet(null), [JSON.stringify(order)])
  useEffect(() => () => { if (sheet) URL.revokeObjectURL(sheet.url) }, [sheet])

  const draw = async (): Promise<void> => {
    setBusy(true)
    setWrong('')
    try {
      const { pdf, notPrinted } = await theBackend().sheet(orderOf(paper))
      setSheet({ url: URL.createObjectURL(new Blob([pdf], { type: 'application/pdf' })), kb: Math.round(pdf.size / 1024), notPrinted })
    } catch (error) {
      setWrong(error instanceof Error ? error.message : 'the sheet could not be drawn')
    }
    setBusy(false)
  }

  return (
    <div class="columns">
      <section class="card">
        <fieldset class="two" aria-label="Paper">
          <button type="button" aria-pressed={paper !== 'letter'} onClick={() => setPaper('a4')}>A4</button>
          <button type="button" aria-pressed={paper === 'letter'} onClick={() => setPaper('letter')}>US Letter</button>
        </fieldset>
        <dl class="lines">
          <div><dt>Motor</dt><dd>{order.motor || '–'}</dd></div>
          <div><dt>Full steps per turn</dt><dd>{order.stepsPerRev ?? '–'}</dd></div>
          <div><dt>Microsteps per full step</dt><dd>{order.microsteps ?? '–'}</dd></div>
          <div><dt>{order.rig === 'mirror' ? 'Wall distance' : 'Radius at the marks'}</dt><dd>{order.lengthMm} mm</dd></div>
        </dl>
        {order.stepsPerRev === null || order.microsteps === null ? <p class="hint">What is not known is left out of the code on the sheet. <a href="#plan">Fill it in under Plan</a></p> : <p class="hint">These stand in a code on the sheet, so that a photo of it says them by itself. <a href="#plan">Change them under Plan</a></p>}
        <div class="buttons">
          <button type="button" class={sheet ? '' : 'main'} disabled={busy} onClick={() => void draw()}>{busy ? 'Drawing…' : sheet ? 'Draw it again' : 'Draw the sheet'}</button>
          {sheet && <a class="main" href={sheet.url} download="marking-sheet.pdf">Save marking-sheet.pdf ({sheet.kb} kB)</a>}
        </div>
        {sheet?.notPrinted && <p class="hint" role="status">{notPrintedText(sheet.notPrinted)}</p>}
        {wrong && <p class="wrong" role="alert">{wrong}</p>}
      </section>
      <section class="card">
        <h2>At the printer</h2>
        <ol>
          <li>Print at 100 %, “actual size”. Nothing may be fitted to the page.</li>
          <li>Lay a steel rule along the 100 mm bar. If it is off by more than 0.5 mm, print again.</li>
          <li>Cut out the hole, slide the sheet over the shaft, tape it flat on all four sides.</li>
          <li>Leave the printed targets free: no pen, no fingers, no tape on them.</li>
        </ol>
        <button type="button" class="onward main" onClick={() => goTo('pace')}>Next: step and mark</button>
      </section>
    </div>
  )
}
