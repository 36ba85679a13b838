import { type Named, named } from './named.ts'
import type { BowelSite } from './text-findings.ts'

/** "Right colon" and "left colon" mean what the map of coded sites makes of them (`ConceptMap-bowel-site`). */
const sites: readonly (readonly [BowelSite, RegExp])[] = [
  ['rectosigmoid', /\brecto-?sigmoid\b/g],
  ['anal-canal', /\banal canal\b/g],
  ['anastomosis', /\b(?:ileocolic |colorectal )?anastomo(?:sis|tic)\b/g],
  ['splenic-flexure', /\bsplenic flexure\b/g],
  ['hepatic-flexure', /\bhepatic flexure\b/g],
  ['caecum', /\bca?ec(?:um|al)\b|\bappendi(?:x|ceal) orifice\b/g],
  ['ascending', /\bascending\b|\bright (?:and left )?(?:colon|colonic)\b/g],
  ['transverse', /\btransverse\b/g],
  ['descending', /\bdescending\b|\bleft (?:colon|colonic)\b/g],
  ['sigmoid', /(?<!recto-?)\bsigmoid\b/g],
  ['rectum', /\brect(?:um|al)\b/g],
  ['ileum', /\bile(?:um|al)\b/g],
]

const elsewhere =
  /\b(?:o?esophag\w*|gastr(?:ic|o-?o?esophag\w*)|stomach|antr(?:um|al)|fundic|fundus|cardia|pylor(?:us|ic)|duoden\w*|jejun\w*|ampulla\w*|barrett\w*|pituitary|(?:trans-?)?sphenoid\w*|adrenal|thyroid|parathyroid|salivary|parotid|breast|prostat\w*|lung|bronch\w*|liver|hepatic(?! flexure)|hepatocellular|kidney|renal|ovar(?:y|ies|ian)|uter(?:us|ine)|endometri(?:um|al)|cervi(?:x|cal)|bladder|pancrea\w*|bile duct|gallbladder|brain|pleomorphic)\b/g

const bowel =
  /\b(?:colon|colonic|colorectal|colorectum|rect(?:um|al)|recto-?sigmoid|sigmoid|ca?ec(?:um|al)|ascending|transverse|descending|(?:splenic|hepatic) flexure|ile(?:um|al)|ileoca?ecal|appendi(?:x|ceal) orifice|anal|anus|anastomo(?:sis|tic)|large (?:bowel|intestin\w*))\b/g

/** Bowel sites that a statement names, in order. */
export function sitesIn(statement: string): Named<BowelSite>[] {
  return sites.flatMap(([site, pattern]) => named(statement, pattern, site)).sort((one, other) => one.from - other.from)
}

/** The site of a heading that names one; several leave it open which is meant. */
export function oneSite(statement: string): BowelSite | undefined {
  const all = new Set(sitesIn(statement).map(({ what }) => what))
  return all.size === 1 ? [...all][0] : undefined
}

/** Organs that a statement names, in order: the bowel below the jejunum, or another. */
export function organsIn(statement: string): Named<'bowel' | 'elsewhere'>[] {
  return [...named(statement, bowel, 'bowel' as const), ...named(statement, elsewhere, 'elsewhere' as const)].sort(
    (one, other) => one.from - other.from,
  )
}
