import type { Comparison, Pair, Ranked } from '#core/decide/compare/compare-motors'
import { modeName } from '#core/decide/recommend'
import { plainNumber, ratioText, valueAndInterval, valueAndU } from '#core/report/number-text'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

const metWords = { meets: 'meets', open: 'open', misses: 'misses' } as const

const row = (asked: boolean) => (each: Ranked): string[] => [
  each.label,
  `${each.stepsPerRev} × 1/${each.microsteps}`,
  valueAndInterval(each.effective),
  valueAndInterval(each.positionsPerTurn),
  each.bestMode === null ? 'none' : modeName(each.bestMode),
  each.reversal ? `${valueAndU(each.reversal.deg, 2 * each.reversal.uDeg)}°` : '–',
  asked ? metWords[each.met] : '–',
]

const head = ['result', 'steps', 'effective microsteps', 'effective positions per turn', 'holds', 'reversal', 'requirement']

const missed = ({ label, checks }: Ranked): string[] =>
  checks.filter(({ met }) => met !== 'meets').map(({ need, met, found }) => folded(`${label}: ${need}: ${met === 'misses' ? 'missed' : 'open'} (${found})`, { indent: '  ' }))

const probability = (p: number): string => (p < 0.001 ? 'below 0.001' : plainNumber(p, 2))

const pairLine = ({ first, second, ratio, ratioInterval, pCorrected, differ, method, cycles }: Pair): string => {
  const how = method === 'from the intervals' ? method : `${method}, ${cycles} cycles`
  const size = `${ratioText({ ratio, ratioInterval })} times the positions`
  return folded(`${first} against ${second}: ${size}, ${differ ? 'a real difference' : 'not told apart'} (p ${probability(pCorrected)} after Holm's correction, ${how})`, { indent: '  ' })
}

/** A comparison for a person: ranking, what is missed, which differences are real. */
export const compareText = ({ ranked, pairs, requirement }: Comparison): string => {
  const asked = Object.values(requirement).some((need) => need !== null)
  const table = fittedTable(head, ranked.map(row(asked)))
  const open = ranked.flatMap(missed)
  return [table, ...(open.length > 0 ? ['', ...open] : []), ...(pairs.length > 0 ? ['', ...pairs.map(pairLine)] : [])].join('\n')
}
