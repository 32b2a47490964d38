const controls = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g

/** Text from outside on one line: no control, escape or direction-changing characters, runs of blanks made one. */
export const oneLine = (text: string): string => text.replace(controls, ' ').replace(/\s+/g, ' ').trim()
