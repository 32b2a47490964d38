import { remedyOnPage } from '#adapters/page/client/app/remedy-on-page'
import type { Unmeasurable } from '#core/quantity/unmeasurable'

/** What stands in the way: where, what, and the cure. */
export const Wrong = ({ why, where }: { readonly why: Unmeasurable; readonly where?: string }) => {
  const remedy = remedyOnPage(why)
  return (
    <div class="wrong" role="alert">
      <strong>{where ?? why.where}: {why.what}.</strong>
      <span>{remedy[0]?.toUpperCase()}{remedy.slice(1)}.</span>
    </div>
  )
}
