import type { Place } from '#core/detect/sheet/page-size'

/** Why something is printed; a detector may treat each in its own way. */
export type ShapeRole = 'target' | 'radius-arc' | 'number-ring' | 'shaft' | 'tick' | 'scale-bar' | 'code' | 'join' | 'text'

/** Grey of the print: 0 black … 1 bare paper. */
export type Tone = number

export type Shape =
  | { readonly kind: 'disc'; readonly role: ShapeRole; readonly centre: Place; readonly radius: number; readonly tone: Tone }
  | {
      /** Filled between two concentric circles. */
      readonly kind: 'ring'
      readonly role: ShapeRole
      readonly centre: Place
      readonly inner: number
      readonly outer: number
      readonly tone: Tone
    }
  | {
      readonly kind: 'line'
      readonly role: ShapeRole
      readonly from: Place
      readonly to: Place
      readonly width: number
      readonly tone: Tone
    }
  | {
      /** Stroked; from fromDeg counter-clockwise as seen to toDeg (> fromDeg; 360 more for a full circle). */
      readonly kind: 'arc'
      readonly role: ShapeRole
      readonly centre: Place
      readonly radius: number
      readonly fromDeg: number
      readonly toDeg: number
      readonly width: number
      readonly tone: Tone
    }
  | {
      /** Filled; x, y is the corner nearest the sheet's top left. */
      readonly kind: 'rect'
      readonly role: ShapeRole
      readonly x: number
      readonly y: number
      readonly width: number
      readonly height: number
      readonly tone: Tone
    }
  | {
      /** One line of text; `at` is the start, middle or end of its base line; `size` the font size, mm. */
      readonly kind: 'text'
      readonly role: ShapeRole
      readonly at: Place
      readonly size: number
      readonly anchor: 'start' | 'middle' | 'end'
      readonly text: string
      readonly tone: Tone
    }
