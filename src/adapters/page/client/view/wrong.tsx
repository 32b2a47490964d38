import type { Unmeasurable } from '#core/quantity/unmeasurable'

const fields: Readonly<Record<string, string>> = { 'steps-per-rev': 'full steps per turn', microsteps: 'microsteps per full step', radius: 'R, radius at the marks,' }

/** Cures that tell of trace and command, in the words of the page, which has fields instead. */
const onPage = (remedy: string): string => remedy.replaceAll(/add "# ([a-z-]+): …(?: mm)?" to the trace or --[a-z-]+ to the command/g, (_, key: string) => `fill in ${fields[key] ?? key} under Motor and rig`)

/** What stands in the way: where, what, and the cure. */
export const Wrong = ({ why, where }: { readonly why: Unmeasurable; readonly where?: string }) => {
  const remedy = onPage(why.remedy)
  return (
    <div class="wrong" role="alert">
      <strong>{where ?? why.where}: {why.what}.</strong>
      <span>{remedy[0]?.toUpperCase()}{remedy.slice(1)}.</span>
    </div>
  )
}
