import { goTo } from '#adapters/page/client/app/step'

/** What a step says that has nothing to work on yet, and the way there. */
export const NeedsMarks = ({ what }: { readonly what: string }) => (
  <section class="card">
    <p>{what} Put in the marks first: from a photo, or typed.</p>
    <button type="button" class="main" onClick={() => goTo('marks')}>To the marks</button>
  </section>
)
