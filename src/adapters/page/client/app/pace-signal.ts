let sound: AudioContext | null = null

/** Browsers let a page sound only after a touch: called from one. */
export const wakeSound = (): void => {
  sound ??= 'AudioContext' in globalThis ? new AudioContext() : null
  void sound?.resume()
}

const tone = (hertz: number, atS: number, lengthS: number): void => {
  if (!sound) return
  const voice = sound.createOscillator()
  const loud = sound.createGain()
  const from = sound.currentTime + atS
  voice.frequency.value = hertz
  loud.gain.setValueAtTime(0.0001, from)
  loud.gain.exponentialRampToValueAtTime(0.35, from + 0.01)
  loud.gain.exponentialRampToValueAtTime(0.0001, from + lengthS)
  voice.connect(loud).connect(sound.destination)
  voice.start(from)
  voice.stop(from + lengthS)
}

/** One short tone and a buzz for a step; three for the end. */
export const signal = (what: 'step' | 'end'): void => {
  const times = what === 'step' ? 1 : 3
  for (let i = 0; i < times; i++) tone(what === 'step' ? 880 : 660, i * 0.28, 0.2)
  navigator.vibrate?.(what === 'step' ? 120 : [120, 120, 120, 120, 240])
}
