import type { Polyp } from '../../../src/record/colonoscopy.ts'
import { answerTo, type Facts } from '../measure-of.ts'

/** An examination whose polyps are all listed, with the facts that follow from the list. */
export function found(...polyps: Polyp[]): Facts {
  const handled = (handling: Polyp['handling']) =>
    polyps.every((polyp) => polyp.handling !== undefined)
      ? polyps.filter((polyp) => polyp.handling === handling).length
      : undefined
  const removed = polyps.some(({ handling }) => handling === 'removed')
  return {
    polypCount: polyps.length,
    polyps,
    polypRemoved: removed || (handled('removed') === 0 ? false : undefined),
    polypsLeftCount: handled('left'),
    polypsNotFoundAgainCount: handled('not-found-again'),
    tissueTakenOrTreated: removed || undefined,
  }
}

/** A polyp of an exact size, which its bounds then are too. */
export const millimetres = (size: number): Polyp => ({
  sizeMillimetres: size,
  sizeAtLeastMillimetres: size,
  sizeAtMostMillimetres: size,
})

/** Of the polyps of an examination: met, of so many recorded; outcome not recorded; not recorded whether they belong. */
export type Sums = readonly [met: number, of: number, notRecorded: number, undecided: number]

/** What an examination with these polyps adds to the sums of a polyp-level measure. */
export function sumsOf(id: string, facts: Facts): Sums {
  const { code, value, over, itemsNotRecorded = 0, itemsUndecided = 0 } = answerTo(id, facts)
  if (code !== 'met' || value === undefined || over === undefined) throw new Error(`${id}: ${code}, no sums`)
  return [value, over, itemsNotRecorded, itemsUndecided]
}
