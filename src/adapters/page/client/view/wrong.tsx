import { placeOnPage, remedyOnPage } from '#adapters/page/client/app/remedy-on-page'
import type { Unmeasurable } from '#core/quantity/unmeasurable'

/** What stands in the way: where, what, and the cure. */
export const Wrong = ({ why }: { readonly why: Unmeasurable }) => {
  const [place, remedy] = [placeOnPage(why), remedyOnPage(why)]
  return (
    <div class="wrong" role="alert">
      <strong>{place}: {why.what}.</strong>
      <span>{remedy[0]?.toUpperCase()}{remedy.slice(1)}.</span>
    </div>
  )
}
