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
 * does not count them: there is one at least in each. That one, where it sends nothing else, now and then does not say either from
 * where a jar is.
 */
export function detailBiopsies(random: Random, { unit, row, jars }: Plan): Added {
  const pieces = jars.map(({ polyps }) => {
    const number = random.between(2, 4)
    return polyps.length === 0 ? number : undefined
  })
  const isCounted = random.chance(8000)
  const numberIn = (part: Part, of: (number: number) => number): number =>
    pieces.reduce<number>(
      (sum, number, position) =>
        number !== undefined && isSited[position] && siteAt(position).part === part ? sum + of(number) : sum,
      0,
    )
  const isSited = jars.map(() => !random.chance(1500) || unit.id !== 'tarnhollow' || row.polyps.length > 0)
  const inPanel = unit.id === 'quernford' && row.randomBiopsies > 0 && isCounted
  const taken = Object.fromEntries(
    parts.map((part): [Part, readonly [number | undefined, number | undefined]] => {
      const [number, jarsOfPart] = [numberIn(part, (one) => one), numberIn(part, () => 1)]
      if (inPanel && number > 0) return [part, [number, number]]
      // An open report may yet tell of more.
      if (row.report === 'preliminary') return [part, [undefined, undefined]]
      // The jar of which nobody says from where it is may be from here.
      if (isSited.includes(false)) return [part, [undefined, jarsOfPart === 0 ? undefined : jarsOfPart]]
      if (number === 0 || unit.id === 'ellenby') return [part, [number, number]]
      return [part, [undefined, jarsOfPart]]
    }),
  ) as Record<Part, readonly [number | undefined, number | undefined]>
  const truth: TruthDetails = {
    biopsiesRight: taken.right[0],
    biopsiesRightAtLeast: taken.right[1],
    biopsiesLeft: taken.left[0],
    biopsiesLeftAtLeast: taken.left[1],
    biopsiesRectum: taken.rectum[0],
    biopsiesRectumAtLeast: taken.rectum[1],
  }
  const counted = parts.map((part) => ({ part, number: numberIn(part, (one) => one) }))
  return {
    truth,
    written: {
      unsitedJars: isSited.flatMap((one, position) => (one ? [] : [position])),
      pieces: unit.id === 'ellenby' ? pieces : undefined,
      biopsies: inPanel ? counted.filter(({ number }) => number > 0) : undefined,
    },
  }
}
