import type { Point } from '#core/detect/raster'
import type { Reviewed } from '#core/review/reviewed'
import { bench, edit, say } from '#adapters/page/client/app/bench'
import { carried, preview, strokeAt } from './carry.ts'
import { drawnOn, type Placed } from './drawn.ts'
import { type Handle, handleAt } from './handle.ts'
import { follow, letGo } from './live.ts'
import { chosen, freshName, selectedId, selectMark } from './marks-state.ts'
import { toPhotoPoint, type View, zoomed } from './view.ts'

/** What the pointer's work needs from the view it works on. */
export interface Stage {
  readonly element: HTMLElement
  readonly view: () => View
  readonly setView: (view: View) => void
}

interface Drag {
  readonly kind: 'handle' | 'pan' | 'draw'
  readonly handle: Handle | null
  readonly from: Point
  readonly view: View
  /** What had been placed before. */
  readonly placed: Placed
  readonly reach: number
  moved: boolean
}

const place = (event: PointerEvent | WheelEvent | MouseEvent, element: HTMLElement): Point => {
  const box = element.getBoundingClientRect()
  return [event.clientX - box.left, event.clientY - box.top]
}

const far = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(ax - bx, ay - by)

/** Mouse, pen and fingers: take hold of a handle and carry it, push the photo about, pinch or turn the wheel to come nearer. */
export const followPointer = ({ element, view, setView }: Stage): (() => void) => {
  const down = new Map<number, Point>()
  let drag: Drag | null = null
  let pinch: { readonly apart: number; readonly middle: Point; readonly view: View } | null = null
  const state = (): Reviewed | null => bench.get().state

  const take = (at: Point, touch: boolean): Handle | null => {
    const now = state()
    return now && handleAt(now, at, { view: view(), px: touch ? 26 : 12, selected: selectedId(chosen.get()), paper: now.found.rig === 'pointer' })
  }

  const add = (at: Point): void => {
    const now = state()
    if (!now) return
    const id = freshName('a')
    edit({ kind: 'add', mark: id, ...strokeAt(now, toPhotoPoint(view(), at)) })
    selectMark(id, false)
    say('A mark was added. Drag it or use the arrow keys.')
    chosen.set({ tool: 'move' })
  }

  const draw = (at: Point): void => {
    const { tool } = chosen.get()
    if (!drag || tool === 'move' || tool === 'add') return
    const [from, to] = [toPhotoPoint(drag.view, drag.from), toPhotoPoint(drag.view, at)]
    const placed = drawnOn(drag.placed, tool, { from, to, centre: state()?.centrePx ?? null, reach: drag.reach / drag.view.scale })
    if (placed) chosen.set({ placed })
    else if (tool === 'ring' && !drag.placed.centre && !state()?.centrePx) say('Say where the shaft is first; the ring is drawn about it.')
  }

  const carry = (at: Point): void => {
    const now = state()
    if (!drag?.handle || !now) return
    const what = carried(drag.handle, [(at[0] - drag.from[0]) / drag.view.scale, (at[1] - drag.from[1]) / drag.view.scale], now)
    if (what) follow(preview(now, what), drag.handle.kind === 'mark' ? drag.handle.id : null)
  }

  const onDown = (event: PointerEvent): void => {
    const at = place(event, element)
    down.set(event.pointerId, at)
    element.setPointerCapture(event.pointerId)
    const [a, b] = [...down.values()]
    if (a && b) {
      letGo()
      if (drag) chosen.set({ placed: drag.placed })
      drag = null
      pinch = { apart: far(a, b), middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], view: view() }
      return
    }
    if (event.button !== 0 && event.button !== 1) return
    if (chosen.get().tool === 'add' && event.button === 0) {
      add(at)
      return
    }
    const draws = event.button === 0 && chosen.get().tool !== 'move'
    const touch = event.pointerType === 'touch'
    const handle = event.button === 1 || draws ? null : take(at, touch)
    drag = { kind: draws ? 'draw' : handle ? 'handle' : 'pan', handle, from: at, view: view(), placed: chosen.get().placed, reach: touch ? 26 : 12, moved: false }
    if (handle) chosen.set({ handle })
  }

  const onMove = (event: PointerEvent): void => {
    const at = place(event, element)
    if (!down.has(event.pointerId)) {
      const handle = event.pointerType === 'mouse' ? take(at, false) : null
      const hover = handle?.kind === 'mark' ? handle.id : null
      if (hover !== chosen.get().hover) chosen.set({ hover })
      return
    }
    down.set(event.pointerId, at)
    const [a, b] = [...down.values()]
    if (pinch && a && b) {
      const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
      const near = zoomed(pinch.view, far(a, b) / (pinch.apart || 1), pinch.middle)
      setView({ ...near, x: near.x + middle[0] - pinch.middle[0], y: near.y + middle[1] - pinch.middle[1] })
      return
    }
    if (!drag) return
    if (!drag.moved && far(at, drag.from) < (event.pointerType === 'touch' ? 6 : 3)) return
    drag.moved = true
    if (drag.kind === 'handle') carry(at)
    else if (drag.kind === 'draw') draw(at)
    else setView({ ...drag.view, x: drag.view.x + at[0] - drag.from[0], y: drag.view.y + at[1] - drag.from[1] })
  }

  const onUp = (event: PointerEvent): void => {
    const at = place(event, element)
    const had = drag
    // A place that is only tapped is told, too.
    if (had?.kind === 'draw' && !had.moved) draw(had.from)
    down.delete(event.pointerId)
    if (down.size === 0) pinch = null
    drag = null
    const now = state()
    const what = had?.kind === 'handle' && had.moved && had.handle && now ? carried(had.handle, [(at[0] - had.from[0]) / had.view.scale, (at[1] - had.from[1]) / had.view.scale], now) : null
    letGo()
    if (what) edit(what)
    else if (had?.kind === 'pan' && !had.moved) chosen.set({ handle: null })
  }

  const onCancel = (event: PointerEvent): void => {
    down.delete(event.pointerId)
    drag = null
    pinch = null
    letGo()
  }

  const onWheel = (event: WheelEvent): void => {
    event.preventDefault()
    setView(zoomed(view(), Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0018)), place(event, element)))
  }

  const heard: readonly (readonly [string, (event: never) => void])[] = [['pointerdown', onDown], ['pointermove', onMove], ['pointerup', onUp], ['pointercancel', onCancel]]
  for (const [name, listener] of heard) element.addEventListener(name, listener as EventListener)
  element.addEventListener('wheel', onWheel, { passive: false })
  return () => {
    for (const [name, listener] of heard) element.removeEventListener(name, listener as EventListener)
    element.removeEventListener('wheel', onWheel)
  }
}
