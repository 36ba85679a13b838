import { type Named, named } from './named.ts'
import type { Dysplasia, HistologyClass } from './text-findings.ts'

/** A word of diagnosis. */
export type DiagnosisWord =
  | {
      readonly kind: 'lesion'
      readonly histology: HistologyClass
      readonly villous?: boolean
      /** Said of more than one. */
      readonly plural?: boolean
      /** Holds its own "no" ("no abnormality"), which does not deny it. */
      readonly denies?: boolean
    }
  /** A grade, or dysplasia of no stated grade; `named` where the word dysplasia itself (or neoplasia) stands there. */
  | { readonly kind: 'dysplasia'; readonly grade?: Dysplasia; readonly named: boolean }
  | { readonly kind: 'villous-part' }
  /** Any new growth, of a kind that is not said: of use only where it is denied. */
  | { readonly kind: 'neoplasia' }

const lesion = (histology: HistologyClass, villous?: boolean): DiagnosisWord => ({
  kind: 'lesion',
  histology,
  ...(villous === undefined ? {} : { villous }),
})
const grade = (of: Dysplasia | undefined, isNamed: boolean): DiagnosisWord => ({
  kind: 'dysplasia',
  ...(of === undefined ? {} : { grade: of }),
  named: isNamed,
})

const adenoma = 'adenom(?:a(?:s|ta)?(?:\\((?:s|ta)\\))?|atous polyps?)(?![a-z])'
const dysplasia = '(?:dysplasia|dysplastic|intra-?epithelial neoplasia)'
const lower = '(?:low|mild(?:ly)?|moderate(?:ly)?)(?:[- ]grade)?'
const higher = '(?:high|severe(?:ly)?)(?:[- ]grade)?'
const between = '(?: (?:and|to|or) |[-/ ])(?:focal(?:ly)? )?'
const notCancer = '(?! (?:(?:adeno-?)?carcinoma|cancer|neuroendocrine|lymphoma|malignan|tumou?r|mucinous))'

/**
 * Words of diagnosis, the longer before the shorter: what one has matched, none after it matches again. So a serrated adenoma is never
 * an adenoma, an adenocarcinoma never an adenoma, and "carcinoma in situ" never a cancer.
 */
const lexicon: readonly (readonly [string, DiagnosisWord | undefined])[] = [
  // Not a diagnosis of this tissue.
  ['(?:cancer|carcinoma)s? (?:screening|pathway|programme|program|registry|cent(?:er|re)|referral)', undefined],
  ['hereditary (?:non-?polyposis )?(?:colorectal|colon) cancer', undefined],
  ['adenomatous polyposis', undefined],
  // Serrated lesions.
  [
    '(?:sessile|broad[- ]based) serrated (?:lesion|adenoma|polyp)s?(?:\\(s\\))?(?: ?\\/ ?(?:lesion|adenoma|polyp)s?)?',
    lesion('sessile-serrated-lesion'),
  ],
  ['(?:ssls?|ssaps?|ssa ?\\/ ?[lp]s?|ssas?|ssps?)', lesion('sessile-serrated-lesion')],
  ['(?:traditional serrated adenomas?(?:\\(s\\))?|tsas?)', lesion('traditional-serrated-adenoma')],
  ['serrated (?:lesion|adenoma|polyp)s?', lesion('other')],
  // Conventional adenomas.
  [
    `(?:tubulo[- ]?villous|villo[- ]?tubular|tubular (?:and|\\/) ?villous|villous) ${adenoma}`,
    lesion('conventional-adenoma', true),
  ],
  [
    'adenomas?,? (?:of )?(?:tubulo-?villous|villous)(?: type)?(?! (?:and|adenoma|feature|component|architecture))',
    lesion('conventional-adenoma', true),
  ],
  ['adenomas?,? (?:of )?tubular(?: type)?(?! (?:and|adenoma|architecture))', lesion('conventional-adenoma', false)],
  [`tubular ${adenoma}`, lesion('conventional-adenoma', false)],
  ['tvas?', lesion('conventional-adenoma', true)],
  [`(?:${adenoma}|adenomatous)`, lesion('conventional-adenoma')],
  // Cancer; in situ and intramucosal growth is the highest grade of dysplasia, since it does not spread.
  ['(?:(?:adeno-?)?carcinoma in[- ]situ|intra-?mucosal (?:adeno-?)?carcinoma)', grade('high-grade', true)],
  ['neuroendocrine (?:tumou?r|neoplasm)s?', lesion('other')],
  ['(?:metastatic|metastasis of) (?:[a-z-]+ ){0,3}?(?:(?:adeno-?)?carcinomas?|melanoma|cancer)', lesion('other')],
  ['(?:(?:adeno-?)?carcinomas?|cancers?|malignan(?:cy|cies|t (?:polyp|tumou?r|neoplasm)s?))', lesion('cancer')],
  // Grades and architecture.
  [`${lower}${between}${higher} ${dysplasia}`, grade('high-grade', true)],
  [`(?:${lower}${between})?${lower} (?:[a-z]+ )?${dysplasia}`, grade('low-grade', true)],
  [`${higher} (?:[a-z]+ )?${dysplasia}`, grade('high-grade', true)],
  [`${dysplasia}(?: grade)?(?: ?[:(,] ?| )high(?:[- ]grade)?`, grade('high-grade', true)],
  [`${dysplasia}(?: grade)?(?: ?[:(,] ?| )low(?:[- ]grade)?`, grade('low-grade', true)],
  ['hgd', grade('high-grade', true)],
  ['lgd', grade('low-grade', true)],
  [`high[- ]grade${notCancer}`, grade('high-grade', false)],
  [`low[- ]grade${notCancer}`, grade('low-grade', false)],
  [dysplasia, grade(undefined, true)],
  ['villous (?:feature|component|architecture|area|element|change|part|differentiation)s?', { kind: 'villous-part' }],
  ['neoplas(?:m|ms|ia|tic)', { kind: 'neoplasia' }],
  // Hyperplastic polyps; a mere change of the epithelium is none.
  ['hyperplastic (?:change|feature|mucosa|epithelium)s?', lesion('other')],
  ['(?:hyperplastic(?: \\(?metaplastic\\)?)?|metaplastic) polyps?(?:\\(s\\))?', lesion('hyperplastic')],
  ['hyperplastic(?! (?:colonic |rectal |superficial )?(?:fragment|tissue|gastric))', lesion('hyperplastic')],
  // Everything else that a bowel biopsy is found to be.
  [
    '(?:no|without) (?:[a-z-]+ ){0,3}(?:abnormalit(?:y|ies)|patholog(?:y|ies)|pathologic(?:al)? (?:change|finding|alteration|diagnosis)s?)',
    { kind: 'lesion', histology: 'other', denies: true },
  ],
  [
    '(?:within normal limits|(?:histologically |essentially )?(?:normal|unremarkable|benign) (?:[a-z-]+ ){0,2}(?:mucosa|tissue|epithelium|polyps?|bowel wall)|mucosa (?:is|appears|are) (?:[a-z]+ )?(?:normal|unremarkable))',
    lesion('other'),
  ],
  ["(?:colitis|proctitis|ileitis|crohn(?:'s)?(?: disease)?|inflammatory bowel disease)", lesion('other')],
  [
    '(?:inflammatory (?:fibroid |cap )?(?:pseudo-?)?polyps?|pseudo-?polyps?|juvenile (?:\\(?retention\\)? )?polyps?|retention polyps?|hamartoma(?:s|tous polyps?)?|peutz-jeghers polyps?|fibroblastic polyps?|fibro-?epithelial polyps?)',
    lesion('other'),
  ],
  [
    '(?:lipomas?|leiomyomas?|ganglioneuromas?|perineuriomas?|granular cell tumou?rs?|carcinoid(?: tumou?rs?)?|lymphomas?|melanomas?|stromal tumou?rs?|xanthomas?|endometriosis)',
    lesion('other'),
  ],
  [
    '(?:lymphoid (?:aggregate|follicle|polyp|nodule)s?|lymphoid hyperplasia|granulation tissue|granulomas?|ulceration|melanosis(?: coli)?|(?:mucosal )?prolapse|amyloid(?:osis)?|spirocha?etosis|isch(?:a)?emi(?:a|c)|reactive changes?|polypoid (?:colonic |rectal |ileal )?mucosa)',
    lesion('other'),
  ],
]

const patterns = lexicon.map(([words, what]) => [new RegExp(`(?<![a-z])(?:${words})(?![a-z])`, 'g'), what] as const)

/** Words of diagnosis in a statement, in order. */
export function diagnosisWordsIn(statement: string): Named<DiagnosisWord>[] {
  const found: Named<DiagnosisWord>[] = []
  let rest = statement
  for (const [pattern, what] of patterns) {
    for (const { from, to } of named(rest, pattern, undefined)) {
      if (what !== undefined) found.push({ what: withNumber(what, statement.slice(from, to)), from, to })
      // Blotted out, so that no shorter word is found within.
      rest = `${rest.slice(0, from)}${'\u0000'.repeat(to - from)}${rest.slice(to)}`
    }
  }
  return found.sort((one, other) => one.from - other.from)
}

function withNumber(what: DiagnosisWord, said: string): DiagnosisWord {
  return what.kind === 'lesion' && /(?:s|ta)$/.test(said) ? { ...what, plural: true } : what
}
