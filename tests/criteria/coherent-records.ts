import type { Colonoscopy, Polyp } from '../../src/record/colonoscopy.ts'
import { variedRecords } from './varied-records.ts'

const classCounts = [
  ['conventional-adenoma', 'adenomaCount'],
  ['traditional-serrated-adenoma', 'traditionalSerratedCount'],
  ['sessile-serrated-lesion', 'sessileSerratedCount'],
  ['hyperplastic', 'hyperplasticCount'],
  ['cancer', 'cancerCount'],
  ['other', 'otherHistologyCount'],
] as const

/**
 * Records in random combinations, in which what is written down twice agrees: the list of polyps with their number, a class with
 * its count, the bounds of a size with the size. Linkage makes no others, so laws about criteria are laws about these.
 */
export function coherentRecords(count: number, seed: number): Colonoscopy[] {
  return variedRecords(count, seed).map(coherent)
}

function coherent(record: Colonoscopy): Colonoscopy {
  const polyps = record.polyps?.map(withOrderedBounds)
  const made: Colonoscopy = { ...record, polyps }
  for (const [, field] of classCounts) if (made[field] !== undefined) made[field] = Math.max(0, made[field] % 4)
  if (polyps !== undefined) {
    made.polypCount = polyps.length
    for (const [histology, field] of classCounts) {
      const named = polyps.filter((polyp) => polyp.histology === histology).length
      if (made[field] !== undefined) made[field] = named + (made[field] % 2)
    }
    if (made.polypsWithoutObtainableHistology !== undefined)
      made.polypsWithoutObtainableHistology = polyps.filter(isLost).length
  }
  const { adenomaCount, adenomaFound } = made
  const isNamed = polyps?.some(({ histology }) => histology === 'conventional-adenoma') === true
  if (adenomaFound !== undefined && (isNamed || adenomaCount !== undefined))
    made.adenomaFound = isNamed || (adenomaCount ?? 0) > 0
  for (const [histology, count, field] of found) {
    if (made[field] === undefined) continue
    const named = polyps?.some((polyp) => polyp.histology === histology) === true
    if (named || made[count] !== undefined) made[field] = named || (made[count] ?? 0) > 0
  }
  return made
}

const found = [
  ['traditional-serrated-adenoma', 'traditionalSerratedCount', 'traditionalSerratedFound'],
  ['sessile-serrated-lesion', 'sessileSerratedCount', 'sessileSerratedFound'],
  ['cancer', 'cancerCount', 'cancerFound'],
] as const

const isLost = ({ handling, retrieval }: Polyp): boolean =>
  handling === 'left' ||
  handling === 'not-found-again' ||
  retrieval === 'not-retrieved' ||
  retrieval === 'discarded-under-protocol'

function withOrderedBounds(polyp: Polyp): Polyp {
  const { sizeMillimetres: exact, sizeAtLeastMillimetres: one, sizeAtMostMillimetres: other } = polyp
  if (exact !== undefined) return { ...polyp, sizeAtLeastMillimetres: exact, sizeAtMostMillimetres: exact }
  if (one === undefined || other === undefined) return polyp
  return { ...polyp, sizeAtLeastMillimetres: Math.min(one, other), sizeAtMostMillimetres: Math.max(one, other) }
}
