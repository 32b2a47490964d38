#!/usr/bin/env node
import { program } from '#adapters/terminal/program'

await program().parseAsync()
