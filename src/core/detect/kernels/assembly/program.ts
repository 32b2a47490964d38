// AssemblyScript: TypeScript's grammar with the machine's numbers. A place is a byte of the memory; whoever calls lays it out
// (../workspace.ts), 64 bytes spare behind each region, since loops that take several numbers at a time touch a few beyond the last.
export { luma, overWhite, turn } from './grey'
export { boxSums, look, means, smooth } from './plane'
export { laplacians, scan } from './ridge'
export { link } from './chains'
export { profiles } from './profile'
export { darkRuns, joinRuns, sumAreas } from './runs'
export { gather } from './pixels'
export { nthSmallest } from './solve'
export { fitStroke } from './fit'
export { darkness, pulls } from './slices'
export { leftAlong, runningLevels } from './round'
export { bells, erfs } from './tables'
export { castVotes, findPeaks, pullCentre, scoreCentre } from './vote'
/** Where the memory is free. */
export const free: usize = __heap_base
