import { toPhoto } from '#core/detect/plane-map'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { radiusOf } from './dial-centres.ts'
import type { Dial } from './read-dial.ts'

/** Farther apart than this share of the marks' radius is no slip of a hand that points (1.2 %), nor a hub seen aslant (some 5 %). */
const ASTRAY = 0.25

/**
 * A centre that was given where the marks read with it do not aim, beyond doubt and by far: neither is to be believed over the other,
 * and which lines are marks hangs on it. Null when they agree or none was given.
 */
export const centreAstray = ({ centre: { centre, used, setAside }, map, marks }: Pick<Dial, 'centre' | 'map' | 'marks'>): Unmeasurable | null => {
  const given = [...used, ...setAside].find(({ from }) => from === 'given')
  if (given === undefined) return null
  const others = setAside.includes(given) ? [{ centre }] : setAside.filter(({ from }) => from === 'strokes' || from === 'turn')
  const [away] = others.filter((other) => Math.hypot(other.centre[0] - given.centre[0], other.centre[1] - given.centre[1]) > ASTRAY * radiusOf(marks))
  if (away === undefined) return null
  const place = toPhoto(map, away.centre).map(Math.round).join(', ')
  return unmeasurable(`the marks do not aim at the centre that was given: by themselves they meet near ${place} px`, 'photo', 'correct --centre (x,y in px of the upright photo), or leave it out')
}
