import { plainJson, plainLines } from '#core/quantity/one-line'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'

/** What a command prints: one JSON document with --json, else text for a person. */
export interface Shown {
  readonly json: unknown
  readonly text: string
}

/** Prints a command's outcome; exit status 0, or 1 with one sentence on stderr when it cannot be measured. */
export const show = (outcome: Shown | Unmeasurable, { json }: { readonly json?: boolean }): void => {
  if (isUnmeasurable(outcome)) {
    process.stderr.write(`${sentenceOf(outcome)}\n`)
    process.exitCode = 1
    return
  }
  process.stdout.write(json ? `${plainJson(outcome.json)}\n` : `${plainLines(outcome.text.trimEnd())}\n`)
}

/** A reader that has seen enough (a pager, head) ends the program quietly. */
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0)
  throw error
})

/** Progress and warnings; never on stdout. */
export const tell = (line: string): void => {
  process.stderr.write(`${plainLines(line)}\n`)
}

/** What will take a second or more, told to a person at a terminal only. */
export const tellWait = (line: string): void => {
  if (process.stderr.isTTY) tell(line)
}
