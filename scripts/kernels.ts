// Compiles src/core/detect/kernels/assembly (AssemblyScript) into program.ts beside it: node scripts/run.mjs scripts/kernels.ts
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { compiled, folder } from './kernels/compiled.ts'

writeFileSync(join(folder, 'program.ts'), await compiled())
