import { useEffect, useRef } from 'preact/hooks'
import { bench, resultOf } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { theme } from '#adapters/page/client/app/theme'
import { dialMarkAt, drawDial, drawDialHand } from '#adapters/page/client/marks/dial-plot'
import { live } from '#adapters/page/client/marks/live'
import { chosen, selectedId, selectMark } from '#adapters/page/client/marks/marks-state'
import { drawIncrementHand, drawIncrements, incrementScale, type Moved, type RestData } from '#adapters/page/client/marks/rest-plot'

type Canvases = readonly [dial: HTMLCanvasElement, dialHand: HTMLCanvasElement, plot: HTMLCanvasElement, plotHand: HTMLCanvasElement]

const dataOf = (): RestData | null => {
  const { rests } = bench.get()
  const result = resultOf(bench.get())
  return result && rests && rests.markOfRest.length === result.rests.length ? { result, markOfRest: rests.markOfRest } : null
}

/** Commands whose rest is on a mark, and the one after, with their increments as they are now. */
const movedOf = ({ result, markOfRest }: RestData, id: string | null): Moved => {
  const { state } = bench.get()
  const index = state?.marks.findIndex((mark) => mark.id === id) ?? -1
  if (index < 0) return { commands: [], values: [] }
  const on = markOfRest.flatMap((mark, k) => (mark === index ? [k] : []))
  const all = [...new Set([...on, ...on.map((k) => k + 1)])].filter((k) => k < result.rests.length)
  const { rests } = live.get()
  const micro = 360 / result.motor.stepsPerRev / result.motor.microsteps
  const value = (k: number): number => (rests ? ((rests.anglesDeg[k] ?? 0) - (rests.anglesDeg[k - 1] ?? 0)) / micro : (result.rests[k]?.incrementMicrosteps ?? 0))
  return { commands: all, values: all.map(value) }
}

const run = ([dial, dialHand, plot, plotHand]: Canvases): (() => void) => {
  let waiting = false
  let drawn: readonly unknown[] = []
  const draw = (): void => {
    waiting = false
    const { state, outcome } = bench.get()
    const { dragged, id } = live.get()
    const { hover } = chosen.get()
    const data = dataOf()
    const whole = dragged && id === null ? dragged : state
    const now = [whole, outcome, dial.clientWidth, plot.clientWidth, theme.get().turn]
    if (now.some((value, i) => value !== drawn[i])) {
      if (whole) drawDial(dial, whole, null)
      if (data) drawIncrements(plot, data)
      drawn = now
    }
    const picked = [selectedId(chosen.get()), hover].filter((each) => each !== null)
    drawDialHand(dialHand, picked.map((each) => (dragged ?? state)?.marks.find((mark) => mark.id === each)?.angleDeg ?? null))
    if (data) drawIncrementHand(plotHand, data, movedOf(data, picked[0] ?? null))
  }
  const ask = (): void => {
    if (waiting) return
    waiting = true
    requestAnimationFrame(draw)
  }
  const stops = [bench.watch(ask), live.watch(ask), chosen.watch(ask), theme.watch(ask)]
  const resized = new ResizeObserver(ask)
  resized.observe(dial)
  resized.observe(plot)
  ask()
  return () => {
    for (const stop of stops) stop()
    resized.disconnect()
  }
}

const under = (event: PointerEvent): readonly [number, number] => [event.offsetX, event.offsetY]

const onDial = (event: PointerEvent): string | null => {
  const { state } = bench.get()
  const { clientWidth: width, clientHeight: height } = event.currentTarget as HTMLElement
  return state && dialMarkAt(state, { width, height }, under(event))
}

const onPlot = (event: PointerEvent): string | null => {
  const data = dataOf()
  const { clientWidth: width, clientHeight: height } = event.currentTarget as HTMLElement
  const k = data && incrementScale(data.result, { width, height }).commandAt(event.offsetX)
  return k === null ? null : (bench.get().state?.marks[data?.markOfRest[k] ?? -1]?.id ?? null)
}

/** Dial and increments, linked with the photo: what is hovered or chosen in one is shown in all. */
export const LinkedPlots = ({ dial }: { readonly dial: boolean }) => {
  const canvases = useRef<(HTMLCanvasElement | null)[]>([])
  const measured = useStore(bench, (state) => resultOf(state) !== null)
  useEffect(() => {
    const [a, b, c, d] = canvases.current
    return a && b && c && d ? run([a, b, c, d]) : undefined
  }, [])
  const hover = (find: (event: PointerEvent) => string | null) => (event: PointerEvent) => {
    const id = find(event)
    if (event.pointerType === 'mouse' && id !== chosen.get().hover) chosen.set({ hover: id })
  }
  const sheet = (i: number) => <canvas ref={(canvas) => { canvases.current[i] = canvas }} />
  return (
    <div class="linked">
      <figure class={dial ? 'dial' : 'dial unseen'}>
        <figcaption>Marks by angle</figcaption>
        <div class="sheets" role="img" aria-label="Dial: every mark by its angle about the shaft" onPointerMove={hover(onDial)} onPointerLeave={() => chosen.set({ hover: null })} onPointerDown={(event) => selectMark(onDial(event))}>{sheet(0)}{sheet(1)}</div>
      </figure>
      <figure class="increments" hidden={!measured}>
        <figcaption><span class="unseen">What each command moved: </span><span class="keys"><span class="key key-moved">moved</span><span class="key key-merged">merged</span><span class="key key-reversed">reversed</span></span></figcaption>
        <div class="sheets" role="img" aria-label="Increments: microsteps moved by each command" onPointerMove={hover(onPlot)} onPointerLeave={() => chosen.set({ hover: null })} onPointerDown={(event) => selectMark(onPlot(event))}>{sheet(2)}{sheet(3)}</div>
      </figure>
    </div>
  )
}
