import type { TruthPolyp, TruthRow } from '../truth-row.ts'
import type { Nature, Site } from '../truth-words.ts'
import type { Fact } from './definition.ts'
import { histologyKnown } from './row-facts.ts'

export type OfPolyp = (polyp: TruthPolyp) => Fact

/** Whatever was recovered lay in a jar; what a final report says of the jars are the natures of what lay in them. */
export const confirmed = ({ polyps, pathology }: TruthRow): readonly TruthPolyp[] =>
  pathology === 'final' ? polyps.filter(({ retrieval }) => retrieval === 'retrieved') : []

/** Histology found a lesion of one of these classes. */
export const found =
  (...classes: readonly Nature[]) =>
  (row: TruthRow): Fact =>
    histologyKnown(row) ? confirmed(row).some(({ nature }) => classes.includes(nature)) : undefined

/**
 * Histology found a lesion of one of these classes that is so besides. Reports that name no jar tell how many there are, and
 * leave open which polyps they are, or whether a biopsy of something else was one: it is no only where every polyp that may be
 * one is known not to be so.
 */
export const foundThatIs =
  (classes: readonly Nature[], is: OfPolyp) =>
  (row: TruthRow): Fact => {
    if (found(...classes)(row) !== true) return found(...classes)(row)
    const told = confirmed(row)
    const named = told.filter(({ histology }) => histology !== undefined && classes.includes(histology))
    if (named.some((polyp) => is(polyp) === true)) return true
    const unnamed = told.filter(({ histology }) => histology === undefined)
    if (unnamed.length > 0 && row.randomBiopsies > 0) return undefined
    return [...named, ...unnamed].every((polyp) => is(polyp) === false) ? false : undefined
  }

const fromCaecumToTransverse: readonly Site[] = ['caecum', 'ascending', 'hepatic-flexure', 'transverse']
/** The flexure itself is not beyond it. */
export const beyondSplenicFlexure: OfPolyp = ({ site }) => fromCaecumToTransverse.includes(site)
export const beyondSigmoid: OfPolyp = ({ site }) =>
  [...fromCaecumToTransverse, 'splenic-flexure', 'descending'].includes(site)
