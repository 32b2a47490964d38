/** Examples shown under a command's help, for commands that bring none of their own. Each runs as it stands. */
export const examples: Readonly<Record<string, readonly string[]>> = {
  identify: ['identify --ohm "red-blue: 5.2, red-white: open, white-black: 5.3, blue-black: open"', 'identify --commands 96 --turned "360 ± 5 deg" --microsteps 2'],
  plan: ['plan --steps-per-rev 48 --microsteps 4 --rig pointer --length 60mm --pen 0.5mm', 'plan --steps-per-rev 200 --microsteps 16 --rig mirror --distance 1520mm'],
  sheet: ['sheet --motor flap-1 --steps-per-rev 48 --microsteps 4 --length 60mm --out flap-1.pdf', 'sheet --rig mirror --length 1500 --strip 400 --paper letter'],
  pace: ['pace flap-1.csv --motor flap-1 --steps-per-rev 48 --microsteps 4 --commands 192', 'pace --gcode --steps-per-rev 48 --microsteps 4 --commands 192 --out flap-1.gcode'],
  travel: ['travel --steps-per-rev 48 --microsteps 4 --screw M4 --need-resolution 0.02mm', 'travel --result evidence/flap-1 --screw M4 --belt "20 GT2"'],
  compare: ['compare evidence/flap-1 evidence/pump-1', 'compare evidence/*/result.json --train "screw M4" --need-resolution 0.02mm'],
  note: ['note parts/flap-1.md --new --motor flap-1 --steps-per-rev 48', 'note parts/flap-1.md evidence/flap-1', 'note --index parts --needs "0.05 mm on a 1 mm screw"'],
  bench: ['bench', 'bench --project rail --port 4800', 'bench --lan'],
}

/** The text that goes under a command's help; empty when there are no examples for it. */
export const exampleText = (command: string): string => {
  const lines = examples[command] ?? []
  return lines.length === 0 ? '' : `\n${lines.length === 1 ? 'Example' : 'Examples'}:\n${lines.map((line) => `  stepwitness ${line}`).join('\n')}`
}
