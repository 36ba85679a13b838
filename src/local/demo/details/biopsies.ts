import type { Plan } from '../plan.ts'
import type { Random } from '../random.ts'
import type { TruthDetails } from '../truth-details.ts'
import type { Site } from '../truth-words.ts'
import type { Added } from './details.ts'

const parts = ['right', 'left', 'rectum'] as const
export type Part = (typeof parts)[number]

/** Sites of biopsies that are not of a polyp, in turn, and the part of the bowel in which each lies. */
const sites: readonly { readonly site: Site; readonly part: Part }[] = [
  { site: 'rectum', part: 'rectum' },
  { site: 'sigmoid', part: 'left' },
  { site: 'transverse', part: 'right' },
]

/** Site of the biopsies in a jar, by its position. */
export const biopsySiteOf = (position: number): Site => siteAt(position).site

const siteAt = (position: number) => sites[position % sites.length] ?? { site: 'rectum', part: 'rectum' }

/**
 * Biopsies of the mucosa: two to four pieces in each jar. One unit counts the pieces at the jar, one in its panel where it does, and one
 * does not count them: there is one at least in each. The second, where it sends nothing else, now and then does not say from where
 * a jar is; its order tells whose it is.
 */
export function detailBiopsies(random: Random, { unit, row, jars }: Plan): Added {
  const pieces = jars.map(({ polyps }) => {
    const number = random.between(2, 4)
    return polyps.length === 0 ? number : undefined
  })
  const isCounted = random.chance(8000)
  const mayLackSite = unit.id === 'quernford' && row.polyps.length === 0
  const unsitedJars = jars.flatMap((_, position) => (random.chance(2500) && mayLackSite ? [position] : []))
  const inPart = (part: Part) =>
    pieces.flatMap((number, position) =>
      number !== undefined && siteAt(position).part === part ? [{ number, position }] : [],
    )
  const piecesIn = (part: Part) => inPart(part).reduce((sum, { number }) => sum + number, 0)
  const inPanel = unit.id === 'quernford' && row.randomBiopsies > 0 && isCounted
  const taken = (part: Part): readonly [number | undefined, number | undefined] => {
    const [number, jarsSited] = [
      piecesIn(part),
      inPart(part).filter(({ position }) => !unsitedJars.includes(position)).length,
    ]
    if (inPanel && number > 0) return [number, number]
    // An open report may yet tell of more.
    if (row.report === 'preliminary') return [undefined, undefined]
    // The jar of which nobody says from where it is may be from here.
    if (unsitedJars.length > 0) return [undefined, jarsSited === 0 ? undefined : jarsSited]
    if (number === 0 || unit.id === 'ellenby') return [number, number]
    return [undefined, jarsSited]
  }
  const [right, left, rectum] = [taken('right'), taken('left'), taken('rectum')]
  const truth: TruthDetails = {
    biopsiesRight: right[0],
    biopsiesRightAtLeast: right[1],
    biopsiesLeft: left[0],
    biopsiesLeftAtLeast: left[1],
    biopsiesRectum: rectum[0],
    biopsiesRectumAtLeast: rectum[1],
  }
  const counted = parts.map((part) => ({ part, number: piecesIn(part) }))
  return {
    truth,
    written: {
      unsitedJars,
      pieces: unit.id === 'ellenby' ? pieces : undefined,
      biopsies: inPanel ? counted.filter(({ number }) => number > 0) : undefined,
    },
  }
}
