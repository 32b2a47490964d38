import { evenMotor, type RestModel } from '#core/motor/rest-model'

/** The motors of the samples: a museum's volunteers found them in skips. All of them are simulated. */
export const goodHybrid: RestModel = { ...evenMotor(200, 16), detent2: 0.01, detent4: 0.02, detent4PhaseDeg: 15, friction: 0.005, imbalance: 0.02, offsetA: 0.005 }

export const mediocreHybrid: RestModel = { ...evenMotor(200, 8), detent2: 0.03, detent4: 0.07, detent4PhaseDeg: 15, friction: 0.04, imbalance: 0.12, offsetA: 0.03, offsetB: -0.02 }

/** Detent far above what one of four microsteps can pull: one jump per full step, then three moves that hardly show. */
export const canStack: RestModel = { ...evenMotor(48, 4), detent2: 0.005, detent4: -0.8, friction: 0.1 }
