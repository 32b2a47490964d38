import { type Leg, legsOf } from './legs-of.ts'
import type { PaceSetup } from './pace-setup.ts'

/** Pins of the step/direction driver and of the person's light and button. */
export interface SketchPins {
  readonly step: number
  readonly direction: number
  readonly enable: number
  readonly light: number
  readonly button: number
}

export const usualPins: SketchPins = { step: 3, direction: 4, enable: 5, light: 13, button: 2 }

const row = (leg: Leg): string => {
  if (leg.kind === 'cool') return `  {COOL, 0, ${Math.round(leg.seconds * 1000)}UL},`
  return leg.kind === 'run'
    ? `  {RUN, ${leg.to}L, 0UL},  // ${leg.why}`
    : `  {MARKS, ${leg.to}L, 0UL},  // pass ${leg.pass} ${leg.direction > 0 ? '+' : '-'}`
}

const remark = (text: string): string =>
  text
    .replace(/[^ -~]/g, '?')
    .replace(/[\\?]{2,}/g, '?')
    .replace(/\\/g, '/')

const constants = (setup: PaceSetup, pins: SketchPins): string => `const int PIN_STEP = ${pins.step};
const int PIN_DIRECTION = ${pins.direction};
const int PIN_ENABLE = ${pins.enable};   // low switches the current on
const int PIN_LIGHT = ${pins.light};    // lit while a mark is to be made
const int PIN_BUTTON = ${pins.button};    // to ground: press to begin, hold to pause

const bool FORWARD_LEVEL = ${setup.direction > 0 ? 'HIGH' : 'LOW'};
const unsigned long STEP_US = ${Math.max(20, Math.round(1e6 / setup.rate))}UL;
const unsigned long SETTLE_MS = ${Math.round(setup.settleS * 1000)}UL;
const unsigned long DWELL_MS = ${Math.round(setup.dwellS * 1000)}UL;
const unsigned long LONGEST_PAUSE_MS = 60000UL;  // a held button gives up after this, for the motor's sake`

const program = `long at = 0;  // commanded position, 0 is the start mark

void waitMs(unsigned long ms) {
  while (ms > 0) {
    const unsigned long slice = ms > 50UL ? 50UL : ms;
    delay(slice);
    ms -= slice;
  }
}

void pauseWhileHeld() {
  unsigned long held = 0;
  while (digitalRead(PIN_BUTTON) == LOW && held < LONGEST_PAUSE_MS) {
    delay(50);
    held += 50;
  }
}

void oneStep(bool forward) {
  digitalWrite(PIN_DIRECTION, forward == (FORWARD_LEVEL == HIGH) ? HIGH : LOW);
  delayMicroseconds(10);
  digitalWrite(PIN_STEP, HIGH);
  delayMicroseconds(10);
  digitalWrite(PIN_STEP, LOW);
  at += forward ? 1 : -1;
  waitMs(STEP_US / 1000UL);
  delayMicroseconds(STEP_US % 1000UL);
}

void markHere() {
  waitMs(SETTLE_MS);
  pauseWhileHeld();
  digitalWrite(PIN_LIGHT, HIGH);
  waitMs(DWELL_MS);
  digitalWrite(PIN_LIGHT, LOW);
}

void doLeg(const Leg &leg) {
  if (leg.kind == COOL) {
    digitalWrite(PIN_ENABLE, HIGH);
    waitMs(leg.ms);
    digitalWrite(PIN_ENABLE, LOW);
    waitMs(500UL);
    return;
  }
  if (leg.kind == MARKS) markHere();
  while (at != leg.to) {
    oneStep(leg.to > at);
    if (leg.kind == MARKS) markHere();
  }
}

void setup() {
  pinMode(PIN_STEP, OUTPUT);
  pinMode(PIN_DIRECTION, OUTPUT);
  pinMode(PIN_ENABLE, OUTPUT);
  pinMode(PIN_LIGHT, OUTPUT);
  pinMode(PIN_BUTTON, INPUT_PULLUP);
  digitalWrite(PIN_STEP, LOW);
  digitalWrite(PIN_ENABLE, HIGH);
  while (digitalRead(PIN_BUTTON) == HIGH) delay(20);
  digitalWrite(PIN_ENABLE, LOW);
  waitMs(1000UL);
  for (int i = 0; i < LEG_COUNT; i++) doLeg(LEGS[i]);
  digitalWrite(PIN_ENABLE, HIGH);
}

void loop() {}`

/**
 * The run as a plain C++ sketch for a step/direction driver: a table of legs and a short program that walks it, one pulse per
 * command. It begins at the press of a button, can be held, and switches the current off when done, so it never heats a motor
 * that nobody watches.
 */
export const sketchText = (setup: PaceSetup, pins: SketchPins = usualPins): string => {
  const legs = legsOf(setup)
  return `// Steps a motor one command at a time and waits at each rest position for a pen mark.
// Motor: ${remark(setup.motor)}
// ${setup.stepsPerRev} steps per turn; set the driver to 1/${setup.microsteps} steps. ${setup.commands} commands a pass.
// Never unplug the motor while the driver is on; both get hot.

${constants(setup, pins)}

enum LegKind { RUN, MARKS, COOL };
struct Leg {
  LegKind kind;
  long to;
  unsigned long ms;
};

const Leg LEGS[] = {
${legs.map(row).join('\n')}
};
const int LEG_COUNT = ${legs.length};

${program}
`
}
