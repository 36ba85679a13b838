import type { Codes } from '../fhir/codes.ts'
import { asObjects } from '../fhir/json.ts'
import { bowelSites, isWord } from '../record/words.ts'

export const bowelParts = ['right', 'left', 'rectum'] as const
export type BowelPart = (typeof bowelParts)[number]

/** Where tissue is from: a part, or the bowel beyond all of them. */
export type Origin = BowelPart | 'elsewhere'

/**
 * Part of the bowel in which a site lies: right of the splenic flexure, left from it to the rectum, or the rectum. A rule of ours;
 * two halves that meet at the splenic flexure are common practice, no source. An anastomosis may lie anywhere.
 */
const originOfSite: Readonly<Record<(typeof bowelSites)[number], Origin | undefined>> = {
  'anal-canal': 'elsewhere',
  rectum: 'rectum',
  rectosigmoid: 'left',
  sigmoid: 'left',
  descending: 'left',
  'splenic-flexure': 'left',
  transverse: 'right',
  'hepatic-flexure': 'right',
  ascending: 'right',
  caecum: 'right',
  ileum: 'elsewhere',
  anastomosis: undefined,
}

/** @returns undefined where nobody can tell the part: no site, one that is not known here, or an anastomosis */
export const originOf = (site: string | undefined): Origin | undefined =>
  isWord(site, bowelSites) ? originOfSite[site] : undefined

/** Where each body site of a resource lies, one undefined entry where it has none. */
export function originsOf(bodySite: unknown, codes: Codes): readonly (Origin | undefined)[] {
  const sites = asObjects(bodySite)
  return sites.length === 0 ? [undefined] : sites.map((site) => originOf(codes.word(site, 'bowel-site')))
}

/** Whether two things may be from one place: they are not known to be from two parts. */
export const mayBeOneOrigin = (one: Origin | undefined, other: Origin | undefined): boolean =>
  one === undefined || other === undefined || one === other
