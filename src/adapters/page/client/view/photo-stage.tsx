import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { bench } from '#adapters/page/client/app/bench'
import { drawHandLayer, drawMarksLayer, drawPhotoLayer, type Layers } from '#adapters/page/client/marks/layers'
import { placeOf } from '#adapters/page/client/marks/handle'
import { live } from '#adapters/page/client/marks/live'
import { chosen } from '#adapters/page/client/marks/marks-state'
import { type KeyStage, onPhotoKey } from '#adapters/page/client/marks/photo-keys'
import type { PhotoLevels } from '#adapters/page/client/marks/photo-levels'
import { followPointer } from '#adapters/page/client/marks/pointer'
import { brought, fitted, type Size, toPhotoPoint, type View, zoomed } from '#adapters/page/client/marks/view'

interface Stage extends KeyStage {
  /** The photo came: it appears under the marks, and what a hand is doing goes on. */
  readonly show: (levels: PhotoLevels | null) => void
  readonly stop: () => void
}

/** Puts the photo and its marks on the three sheets and keeps them so; draws at most once a frame and only what changed. */
const runStage = (element: HTMLElement, layers: Layers, size: Size): Stage => {
  let levels: PhotoLevels | null = null
  let screen: Size = { width: element.clientWidth, height: element.clientHeight }
  let view: View = fitted(size, screen)
  let [dirtyPhoto, dirtyMarks, waiting] = [true, true, false]
  let drawn: unknown = null

  const draw = (): void => {
    waiting = false
    const { state, work } = bench.get()
    const { dragged, id } = live.get()
    const { handle, hover, tool, placed } = chosen.get()
    if (dirtyPhoto) drawPhotoLayer(layers, screen, { view, levels })
    const shown = dragged ?? state
    // Only the mark in hand moves while it is dragged; the others stay as they were drawn.
    const key = dragged && id !== null ? `drag ${id}` : shown
    if (shown && (dirtyMarks || drawn !== key)) drawMarksLayer(layers, screen, { view, state: shown, except: id })
    drawn = key
    drawHandLayer(layers, screen, { view, state: shown, handle, hover, dragging: dragged !== null, adding: tool === 'add', told: { hints: work?.hints ?? {}, placed, centre: shown?.centrePx ?? null }, levels })
    dirtyPhoto = dirtyMarks = false
  }
  const ask = (all = false): void => {
    if (all) dirtyPhoto = dirtyMarks = true
    if (waiting) return
    waiting = true
    requestAnimationFrame(draw)
  }
  const setView = (next: View): void => {
    view = next
    ask(true)
  }
  const resized = new ResizeObserver(() => {
    const next = { width: element.clientWidth, height: element.clientHeight }
    if (next.width === screen.width && next.height === screen.height) return
    screen = next
    setView(fitted(size, screen))
  })
  resized.observe(element)

  let bring = chosen.get().bring
  const stops = [
    followPointer({ element, view: () => view, setView }),
    bench.watch(() => ask()),
    live.watch(() => ask()),
    chosen.watch(({ handle, bring: now }) => {
      const { state } = bench.get()
      const at = now !== bring && handle && state ? placeOf(handle, state) : null
      bring = now
      if (at) {
        const near = view.scale < fitted(size, screen).scale * 2.5 ? zoomed(view, (fitted(size, screen).scale * 3) / view.scale, [screen.width / 2, screen.height / 2]) : view
        setView(brought(near, at, screen))
      } else ask()
    }),
    () => resized.disconnect(),
  ]
  ask(true)
  return {
    show: (next) => {
      levels = next
      ask(true)
    },
    zoom: (factor) => setView(zoomed(view, factor, [screen.width / 2, screen.height / 2])),
    push: ([x, y]) => setView({ ...view, x: view.x + x, y: view.y + y }),
    whole: () => setView(fitted(size, screen)),
    middle: () => toPhotoPoint(view, [screen.width / 2, screen.height / 2]),
    stop: () => { for (const stop of stops) stop() },
  }
}

/** The photo with its marks. @param levels null while it is being decoded, or when only its marks are known */
export const PhotoStage = ({ levels, size, told, children }: { readonly levels: PhotoLevels | null; readonly size: Size; readonly told: string; readonly children?: ComponentChildren }) => {
  const element = useRef<HTMLDivElement>(null)
  const sheets = useRef<(HTMLCanvasElement | null)[]>([])
  const stage = useRef<Stage | null>(null)
  useEffect(() => {
    const [photo, marks, hand] = sheets.current
    if (!element.current || !photo || !marks || !hand) return
    const running = runStage(element.current, { photo, marks, hand }, size)
    stage.current = running
    return running.stop
  }, [size.width, size.height])
  useEffect(() => stage.current?.show(levels), [levels, size.width, size.height])
  const zoom = (factor: number) => () => stage.current?.zoom(factor)
  return (
    <div class="stage-box">
      <div
        ref={element} class="stage" tabIndex={0} role="application" aria-label="Photo with its marks" aria-describedby="stage-told"
        onKeyDown={(event) => { if (stage.current) onPhotoKey(stage.current, event) }}
      >
        {[0, 1, 2].map((i) => <canvas key={i} ref={(canvas) => { sheets.current[i] = canvas }} />)}
      </div>
      <p id="stage-told" class="unseen" aria-live="polite">{told}</p>
      {children}
      <fieldset class="zoom" aria-label="Zoom">
        <button type="button" aria-label="Nearer" onClick={zoom(1.5)}>+</button>
        <button type="button" aria-label="Farther" onClick={zoom(1 / 1.5)}>−</button>
        <button type="button" aria-label="Whole photo" onClick={() => stage.current?.whole()}>□</button>
      </fieldset>
    </div>
  )
}
