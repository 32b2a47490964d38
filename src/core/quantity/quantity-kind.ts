/** The measures a person types with a unit; every value of one kind travels through the code in its one unit. */
export type QuantityKind =
  | 'length'
  | 'angle'
  | 'mass'
  | 'force'
  | 'torque'
  | 'inertia'
  | 'current'
  | 'voltage'
  | 'resistance'
  | 'inductance'
  | 'time'
  | 'speed'
  | 'acceleration'
  | 'step rate'
  | 'turning speed'

export interface KindRow {
  /** Unit of the number inside the program, as the units library spells it; also meant when no unit is typed. */
  readonly unit: string
  /** The same for people. */
  readonly shown: string
  /** Two or three units to name when one could not be read. */
  readonly examples: string
}

/** The unit of each kind inside the program, and what to suggest to a person. */
export const quantityKinds: Readonly<Record<QuantityKind, KindRow>> = {
  length: { unit: 'mm', shown: 'mm', examples: 'mm, cm, in' },
  angle: { unit: 'deg', shown: '°', examples: 'deg, arcmin, rad' },
  mass: { unit: 'kg', shown: 'kg', examples: 'g, kg, lb' },
  force: { unit: 'N', shown: 'N', examples: 'N, kgf, lbf' },
  torque: { unit: 'N*m', shown: 'N·m', examples: 'N·cm, kg·cm, oz·in' },
  inertia: { unit: 'kg*m^2', shown: 'kg·m²', examples: 'g·cm², kg·m²' },
  current: { unit: 'A', shown: 'A', examples: 'A, mA' },
  voltage: { unit: 'V', shown: 'V', examples: 'V, mV' },
  resistance: { unit: 'ohm', shown: 'Ω', examples: 'ohm, kohm' },
  inductance: { unit: 'H', shown: 'H', examples: 'mH, H' },
  time: { unit: 's', shown: 's', examples: 's, ms, min' },
  speed: { unit: 'mm/s', shown: 'mm/s', examples: 'mm/s, mm/min, in/s' },
  acceleration: { unit: 'mm/s^2', shown: 'mm/s²', examples: 'mm/s², m/s²' },
  'step rate': { unit: 'Hz', shown: 'steps/s', examples: 'steps/s, Hz, kHz' },
  'turning speed': { unit: 'rpm', shown: 'rev/min', examples: 'rpm, rev/min, rad/s' },
}
