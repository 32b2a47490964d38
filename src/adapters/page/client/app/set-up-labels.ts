/** What the page calls the keys of a set-up. */
export const setUpLabels = {
  motor: 'Motor, as written on the sheet',
  'steps-per-rev': 'Full steps per turn',
  microsteps: 'Microsteps per full step',
  radius: 'R, radius at the marks',
  distance: 'D, mirror to wall',
  foot: 'F, foot of the perpendicular',
  'mark-uncertainty': 'u, how well one mark is placed',
  gears: 'Gears before the pointer',
  commands: 'Commands in the run',
  'full-step-command': 'Full-step command',
} as const
