import type { Command } from 'commander'

export interface NoteOptions {
  readonly new?: boolean
  readonly motor?: string
  readonly stepsPerRev?: string
  readonly test?: string
  readonly index?: string
  readonly needs?: string
  readonly csv?: boolean
  readonly markdown?: boolean
  readonly json?: boolean
}

/** `note`: evidence into a parts note, a new note, an index of notes. */
export const addNote = (program: Command): void => {
  program
    .command('note')
    .argument('[NOTE.md]', 'the parts note')
    .argument('[RESULT]', 'result.json, or the evidence folder it is in')
    .description('put the evidence into a parts note, or refresh it there; begin a note; list a folder of notes')
    .option('--test <name>', 'name of this test in the note, when one motor has several')
    .option('--new', 'begin NOTE.md from the template for a salvaged motor')
    .option('--motor <name>', 'with --new: name of the part')
    .option('--steps-per-rev <S>', 'with --new: full steps per shaft revolution')
    .option('--index <folder>', 'list every note of a folder')
    .option('--needs <words>', 'with --index: who can do this? "0.05 mm on a 1 mm screw"')
    .option('--csv', 'with --index: as CSV')
    .option('--markdown', 'with --index: as a Markdown table')
    .option('--json', 'one JSON document on stdout')
    .action(async (note: string | undefined, result: string | undefined, options: NoteOptions, self: Command) => {
      const [{ runNote }, { show }] = await Promise.all([
        import('#adapters/terminal/note/run-note'),
        import('#adapters/terminal/outcome'),
      ])
      show(await runNote([note, result], options, self), options)
    })
}
