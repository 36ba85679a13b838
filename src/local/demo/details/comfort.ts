import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { Added } from './details.ts'
import { habits } from './habits.ts'

/**
 * Who scored comfort: one unit says so beside the score, one by who performed the observation, one only where that was the
 * operator. In one the endoscopist scores too, now and then; a few scores lie outside the scale.
 */
export function detailComfort(random: Random, { unit, row }: Plan): Added {
  const isSaid = random.chance(habits[unit.id].comfortScorer)
  const scorer = random.weighted([
    ['nurse', 70],
    ['patient', 30],
  ] as const)
  const isOperator = random.chance(3000)
  const twice = random.chance(600)
  if (row.comfort === undefined) {
    const isOutside = unit.id === 'quernford' && random.chance(150)
    return { truth: {}, written: { comfortOutOfScale: isOutside ? random.between(6, 9) : undefined } }
  }
  if (!isSaid) return { truth: {}, written: {} }
  if (unit.id === 'ellenby')
    return {
      truth: { comfortScorer: scorer },
      written: { endoscopistComfort: twice ? Math.max(1, row.comfort - 1) : undefined },
    }
  const byOperator = unit.id === 'quernford' || isOperator
  if (byOperator) return { truth: { comfortScorer: row.operator ? 'endoscopist' : undefined }, written: {} }
  return { truth: { comfortScorer: 'patient' }, written: {} }
}
