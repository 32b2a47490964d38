import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { examples } from '#adapters/terminal/examples'
import { program } from '#adapters/terminal/program'

const run = (args: readonly string[], env = {}) => spawnSync(process.execPath, ['dist/main.js', ...args], { encoding: 'utf8', env: { ...process.env, ...env } })

describe('help', () => {
  it('lists the commands in the order of the job', () => {
    expect(program().commands.map((each) => each.name())).toEqual(['identify', 'plan', 'sheet', 'pace', 'detect', 'measure', 'travel', 'compare', 'note', 'replay', 'bench', 'completion'])
  })

  it('of every command has an example, and every option in it is one of the command', () => {
    for (const command of program().commands) {
      let text = ''
      command.configureOutput({ writeOut: (each) => { text += each } }).outputHelp()
      const lines = text.split('\n').filter((line) => /^ {2}(?:eval "\$\()?stepwitness /.test(line))
      expect({ command: command.name(), examples: lines.length > 0 }).toEqual({ command: command.name(), examples: true })
      const known = command.options.flatMap(({ long }) => long ?? [])
      for (const option of lines.join(' ').match(/--[a-z][a-z-]*/g) ?? []) expect(known).toContain(option)
    }
  })

  it('examples that need no file run as they stand', { timeout: 60_000 }, () => {
    const words = (line: string): string[] => [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? '')
    const lines = [...(examples['identify'] ?? []), ...(examples['plan'] ?? []), ...(examples['travel'] ?? []).slice(0, 1)]
    for (const line of lines) expect({ line, status: run(words(line)).status }).toEqual({ line, status: 0 })
  })

  it('holds no escape codes, with a terminal’s colours asked for or refused', () => {
    for (const env of [{ NO_COLOR: '1' }, { FORCE_COLOR: '' }]) expect(run(['measure', '--help'], env).stdout).not.toMatch(/\u001b/)
  })
})

// The shell itself is the reference; where there is none, only the text can be looked at.
it('completion is a script that bash takes and that completes commands and options', () => {
  const script = run(['completion', 'bash']).stdout
  expect(script).toContain('measure')
  if (!existsSync('/bin/bash')) return
  const ask = (words: string, at: number) => spawnSync('/bin/bash', ['--norc', '-c', `${script}\nCOMP_WORDS=(stepwitness ${words}); COMP_CWORD=${at}; _stepwitness; echo "\${COMPREPLY[*]}"`], { encoding: 'utf8' }).stdout.trim()
  expect(ask('me', 1)).toBe('measure')
  expect(ask('measure --se', 2)).toBe('--seed')
  expect(ask('replay --ph', 2)).toBe('--photo')
})
