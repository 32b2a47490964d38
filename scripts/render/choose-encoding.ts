import type { Encoding } from './encode.ts'
import type { Random } from './random.ts'
import type { Difficulty } from './truth.ts'

/** How the phone stores the picture. */
export const chooseEncoding = (random: Random, difficulty: Difficulty): Encoding => {
  if (difficulty === 'clean') return { format: 'png', quality: 100, orientation: 1, chroma: '4:4:4' }
  if (difficulty === 'textured') return { format: 'jpeg', quality: random.whole(85, 95), orientation: 1, chroma: '4:2:0' }
  return {
    format: random.chance(0.9) ? 'jpeg' : random.pick(['png', 'webp'] as const),
    quality: difficulty === 'hard' ? random.whole(60, 90) : random.whole(80, 96),
    orientation: random.chance(0.4) ? 1 : random.whole(1, 8),
    chroma: random.chance(0.8) ? '4:2:0' : '4:4:4',
  }
}
