import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { identifyWires, type WireFindings } from '#core/prepare/identify/identify-wires'
import { wireVerdict } from '#core/prepare/identify/winding-words'
import { halvesBetween, type Winding, windingsOf } from '#core/prepare/identify/windings'
import { stillOpen, wiringChoices } from '#core/prepare/identify/wiring-choices'
import { readWireReadings, type WireReading } from '#core/prepare/identify/wire-readings'
import { seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const found = (text: string, wires?: readonly string[], lead = 0): WireFindings => {
  const readings = readWireReadings(text, lead, 'x')
  const outcome = isUnmeasurable(readings) ? readings : identifyWires(readings, wires)
  if (isUnmeasurable(outcome)) throw new Error(outcome.what)
  return outcome
}

const pairsOf = (wires: readonly string[]) => wires.flatMap((a, i) => wires.slice(i + 1).map((b) => [a, b] as const))

const readingOf = (winding: Winding, pair: readonly [string, string], half: number, error = 0): WireReading => {
  const halves = halvesBetween(winding, pair)
  return { wires: pair, ohm: halves === null ? null : halves * half * (1 + error) }
}

describe('coils and taps from resistances (common practice, no source: end to end is twice tap to end, coils are open to each other)', () => {
  it('four wires: two coils', () => {
    const { fitting } = found('red-blue: 2.1, green-white: 2.0, red-green: open')
    expect(fitting.map(({ winding }) => winding)).toEqual([
      {
        kind: 'two coils',
        coils: [
          ['red', 'blue'],
          ['green', 'white'],
        ],
      },
    ])
    expect(fitting[0]?.halfOhm).toBeCloseTo(2.05, 9)
  })

  it('five wires: the common tap is the one with half the resistance to all', () => {
    const { fitting } = found('a-b: 100, b-c: 51, c-d: 49, c-e: 50')
    expect(fitting.map(({ winding }) => winding)).toMatchObject([{ kind: 'common tap', centre: 'c' }])
  })

  it('six wires: two coils with their taps, kilo-ohms and open as typed', () => {
    const { fitting } = found('1-2: 0.03 kΩ, 1-3: 60, 4-5: 31, 5-6: 60, 1-4: OL', ['1', '2', '3', '4', '5', '6'])
    expect(fitting.map(({ winding }) => winding)).toEqual([
      {
        kind: 'tapped coils',
        coils: [
          { centre: '2', ends: ['1', '3'] },
          { centre: '4', ends: ['5', '6'] },
        ],
      },
    ])
  })

  it('eight wires: four halves, and says that resistance cannot tell which share a phase', () => {
    const { fitting } = found('1-2: 3, 3-4: 3, 5-6: 3, 7-8: 3')
    expect(fitting).toHaveLength(1)
    expect(fitting[0] && stillOpen(fitting[0].winding)).toContain('halves share a phase')
  })

  it('takes the meter leads off before it compares: 0.8 and 1.2 Ω are end and tap only behind 0.4 Ω of leads', () => {
    expect(
      found('1-2: 1.4, 2-3: 1.4, 1-3: 2.4, 4-5: 1.4, 5-6: 1.4, 4-6: 2.4', undefined, 0.4).fitting[0]?.halfOhm,
    ).toBeCloseTo(1, 2)
  })
})

describe('any winding of 4, 5, 6 or 8 wires', () => {
  const winding = fc
    .constantFrom(4, 5, 6, 8)
    .chain((count) => fc.constantFrom(...windingsOf(Array.from({ length: count }, (_, index) => `w${index}`))))
  const wiresIn = (one: Winding): readonly string[] =>
    [
      ...new Set(
        Object.values(one)
          .flat(3)
          .flatMap((part) => (typeof part === 'string' ? [part] : (Object.values(part as object).flat() as string[]))),
      ),
    ].filter((wire) => /^w\d$/.test(wire))

  it('is the only one left when all pairs were measured, 3 % off or not', () => {
    fc.assert(
      fc.property(
        winding,
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 2, max: 300, noNaN: true }),
        (truth, seed, half) => {
          const random = seededRandom(seed)
          const readings = pairsOf(wiresIn(truth)).map((pair) => readingOf(truth, pair, half, 0.06 * (random() - 0.5)))
          const outcome = identifyWires(readings)
          expect(!isUnmeasurable(outcome) && outcome.fitting).toHaveLength(1)
          expect(
            !isUnmeasurable(outcome) &&
              outcome.fitting.every((fit) =>
                pairsOf(wiresIn(truth)).every(
                  (pair) => halvesBetween(fit.winding, pair) === halvesBetween(truth, pair),
                ),
              ),
          ).toBe(true)
        },
      ),
      { numRuns: 80, seed: 9 },
    )
  })

  it('is found by measuring what it asks for next, in fewer readings than there are pairs', () => {
    fc.assert(
      fc.property(winding, (truth) => {
        const wires = wiresIn(truth)
        const readings: WireReading[] = [readingOf(truth, [wires[0] ?? '', wires[1] ?? ''], 12)]
        for (let count = 0; count < 28; count += 1) {
          const outcome = identifyWires(readings, wires)
          if (isUnmeasurable(outcome) || !outcome.next) break
          readings.push(readingOf(truth, outcome.next.wires, 12))
        }
        const outcome = identifyWires(readings, wires)
        expect(!isUnmeasurable(outcome) && outcome.fitting.map((fit) => fit.winding)).toEqual([truth])
        expect(readings.length).toBeLessThan(pairsOf(wires).length)
      }),
      { numRuns: 40, seed: 10 },
    )
  })
})

describe('contradictions', () => {
  it('names the one reading that disagrees', () => {
    const outcome = found('a-b: 5, c-d: 5, a-c: 5')
    expect(outcome.fitting).toEqual([])
    expect(wireVerdict(outcome)).toContain('without a to c the others agree')
  })

  it('a burnt coil agrees with nothing', () => {
    expect(wireVerdict(found('a-b: open, c-d: open, a-c: open, a-d: open, b-c: open, b-d: open'))).toContain(
      'open or shorted',
    )
  })

  it.each(['red: 5', 'red-blue 5', 'red-red: 5', 'red-blue: hot', 'red-blue: -5'])(
    'refuses the reading "%s"',
    (text) => {
      expect(isUnmeasurable(readWireReadings(text, 0, 'x'))).toBe(true)
    },
  )

  it('refuses seven wires', () => {
    expect(isUnmeasurable(identifyWires([], ['1', '2', '3', '4', '5', '6', '7']))).toBe(true)
  })
})

describe('ways to wire', () => {
  const choices = (text: string) =>
    wiringChoices(found(text).fitting[0]?.winding ?? { kind: 'two coils', coils: [] }, 10)

  it('equal heat in all: current² × resistance (common practice, no source)', () => {
    choices('1-2: 10, 3-4: 10, 5-6: 10, 7-8: 10').forEach(({ current, phaseOhm }) => {
      expect(current ** 2 * (phaseOhm ?? 0)).toBeCloseTo(10, 9)
    })
  })

  it('four wires one way, five unipolar only, six three ways, eight four', () => {
    expect(
      [
        'a-b: 5, c-d: 5',
        'a-c: 5, b-c: 5, d-c: 5, e-c: 5',
        '1-2: 5, 1-3: 10, 4-5: 5, 4-6: 10',
        '1-2: 5, 3-4: 5, 5-6: 5, 7-8: 5',
      ].map((text) => choices(text).length),
    ).toEqual([1, 1, 3, 4])
  })
})

describe('decimal commas in readings', () => {
  const found = [{ wires: ['red', 'blue'], ohm: 5.2 }, { wires: ['red', 'green'], ohm: null }, { wires: ['3', '4'], ohm: 5.1 }]

  it.each(['red-blue: 5.2, red-green: open, 3-4: 5.1', 'red-blue: 5,2, red-green: open, 3-4: 5,1', 'red-blue: 5,2,red-green: open,3-4: 5,1', 'red-blue: 5,2; red-green: open; 3-4: 5,1;'])('"%s" is read as meant', (text) => {
    expect(readWireReadings(text, 0, 'x')).toEqual(found)
  })

  it('one that may mean thousands is refused with its cure', () => {
    expect(readWireReadings('red-blue: 5,200', 0, '--ohm')).toMatchObject({ kind: 'unmeasurable', remedy: expect.stringContaining('decimal point') })
  })
})
