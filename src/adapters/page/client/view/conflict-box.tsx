import { bench, settle } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import type { Work } from '#core/review/work'
import { Box } from './box.tsx'

const told = (work: Work | null): string =>
  work === null ? '' : `${work.source === 'photo' ? `${work.found?.marks.length ?? 0} marks found, ${work.applied} changes` : `${work.rows.filter((row) => row[0]).length} rows typed`}`

/** Two windows changed the same test: nothing is lost until a person chooses. */
export const ConflictBox = () => {
  const conflict = useStore(bench, (state) => state.conflict)
  const mine = useStore(bench, (state) => state.work)
  if (!conflict) return null
  return (
    <Box title="This test was changed in another window">
      <p>Both states are still there. Choose which one goes on.</p>
      <div class="choice">
        <button type="button" class="main" onClick={() => settle('mine')}>Keep this window’s<small>{told(mine)}</small></button>
        <button type="button" onClick={() => settle('theirs')}>Take the other one’s<small>{told(conflict.work)}</small></button>
      </div>
    </Box>
  )
}
