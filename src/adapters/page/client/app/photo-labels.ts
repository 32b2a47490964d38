/** What the page calls the things that can be told about a photo. */
export const photoLabels = {
  rig: 'What it shows',
  paper: 'Paper',
  marks: 'Marks, if counted',
  ink: 'Ink',
  tick: 'One tick of a ruler beside them',
  centre: 'Shaft centre',
  ring: 'Ring of marks',
  corners: 'Corners of the paper',
  box: 'Leave out',
  distance: 'Two places',
  apart: 'How far apart they are',
} as const

/** Where these fields are. */
export const lookAgain = 'Another photo, or look again…'
