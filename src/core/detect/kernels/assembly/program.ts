// AssemblyScript: TypeScript's grammar with the machine's numbers. A place is a byte of the memory; whoever calls lays it out
// (../workspace.ts), 64 bytes spare behind each region, since loops that take several numbers at a time touch a few beyond the last.
export { luma, overWhite, turn } from './grey'
export { boxSums, look, smooth } from './plane'
export { scan } from './ridge'
export { link } from './chains'
export { strokeSystem } from './stroke'
