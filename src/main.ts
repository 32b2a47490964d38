#!/usr/bin/env node
import { program } from '#adapters/terminal/program'

await program(process.argv[2]).parseAsync()
