import type { Unmeasurable } from '#core/quantity/unmeasurable'

/** What stands in the way: where, what, and the cure. */
export const Wrong = ({ why, where }: { readonly why: Unmeasurable; readonly where?: string }) => (
  <div class="wrong" role="alert">
    <strong>{where ?? why.where}: {why.what}.</strong>
    <span>{why.remedy[0]?.toUpperCase()}{why.remedy.slice(1)}.</span>
  </div>
)
