import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthPolyp } from '../truth-row.ts'
import type { Nature, Site, Tool } from '../truth-words.ts'
import type { Added } from './details.ts'
import { habits } from './habits.ts'

const knownSites: readonly Site[] = ['rectum', 'sigmoid', 'transverse', 'ascending', 'caecum']
const guesses: readonly Nature[] = ['conventional-adenoma', 'hyperplastic', 'sessile-serrated-lesion']

/** More of each polyp, and lesions seen again: never one polyp more, and never tissue where none was taken. */
export function detailPolyps(random: Random, plan: Plan): Added & { readonly polyps: readonly TruthPolyp[] } {
  const sizeWords: Record<number, string> = {}
  const polyps = plan.row.polyps.map((polyp, position) => {
    const detailed = detailPolyp(random, plan, polyp)
    if (polyp.sizeMillimetres !== undefined || polyp.handling === undefined) return detailed
    if (plan.unit.id === 'tarnhollow') {
      if (random.chance(3000)) sizeWords[position] = random.pick(['small', 'tiny', 'pea-sized'])
      return detailed
    }
    return random.chance(4000) ? { ...detailed, sizeAtMostMillimetres: 5 } : detailed
  })
  const knownLesions = lesionsSeenAgain(random, plan)
  const said = polyps.map(({ tattooed }) => tattooed)
  const noneTattooed = knownLesions.length === 0 && said.every((one) => one === false)
  return {
    polyps,
    truth: {
      knownLesionCount: knownLesions.length,
      tattooPlaced: said.includes(true) ? true : noneTattooed ? false : undefined,
    },
    written: { sizeWords, knownLesions },
  }
}

function detailPolyp(random: Random, { unit }: Plan, polyp: TruthPolyp): TruthPolyp {
  const habit = habits[unit.id]
  const { sizeMillimetres: size = 4, nature } = polyp
  const shape = random.weighted([
    ['sessile', 62],
    ['flat', nature === 'sessile-serrated-lesion' ? 60 : 20],
    ['pedunculated', size < 8 ? 3 : 26],
    ['depressed', nature === 'cancer' ? 20 : 1],
  ] as const)
  const tool = toolFor(random, polyp, size)
  const resection = size < 20 || random.chance(3000) ? 'en-bloc' : 'piecemeal'
  const guess = random.chance(8600) ? nature : random.pick(guesses)
  const [hasShape, hasTool, hasResection] = [habit.shape, habit.tool, habit.resection].map((one) => random.chance(one))
  const isMarked = size >= 20 || nature === 'cancer' ? random.chance(6000) : size >= 10 && random.chance(1200)
  const isLost = random.chance(1400)
  // Of a polyp that is merely named nothing more is said.
  if (polyp.handling === undefined) return polyp
  const handling = polyp.handling === 'left' && isLost ? 'not-found-again' : polyp.handling
  const taken = handling === 'removed' || handling === 'biopsied'
  const tattooed = taken && isMarked ? true : unit.id === 'ellenby' ? false : undefined
  return {
    ...polyp,
    handling,
    ...(hasShape && { shape }),
    ...(taken && hasTool && (unit.id !== 'tarnhollow' || handling === 'removed') && { tool }),
    ...(handling === 'removed' && hasResection && { resection }),
    ...(tattooed !== undefined && { tattooed }),
    ...(unit.id === 'ellenby' && size <= 5 && nature !== 'cancer' && { predictedHistology: guess }),
  }
}

function toolFor(random: Random, { handling }: TruthPolyp, size: number): Tool {
  if (handling === 'biopsied') return 'cold-forceps'
  if (size <= 3) return random.chance(2500) ? 'cold-forceps' : 'cold-snare'
  if (size <= 9)
    return random.weighted<Tool>([
      ['cold-snare', 86],
      ['hot-snare', 8],
      ['cold-forceps', size <= 6 ? 6 : 0],
    ])
  return random.weighted<Tool>([
    ['cold-snare', size < 15 ? 30 : 2],
    ['hot-snare', 38],
    ['mucosal-resection', 40],
    ['submucosal-dissection', size < 25 ? 0 : 8],
  ])
}

/** Seen again on the way to something else: planned to be taken another day, or no longer there. */
function lesionsSeenAgain(random: Random, { row }: Plan): NonNullable<Added['written']['knownLesions']> {
  const likely = row.reason === 'known-lesion' ? 3500 : row.reason === 'surveillance' ? 150 : 20
  const site = random.pick(knownSites)
  const handling = random.chance(8000) ? 'left' : 'not-found-again'
  return random.chance(likely) ? [{ site, handling }] : []
}
