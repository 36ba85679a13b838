import { bowelSites } from '../../record/words.ts'
import { observedIn, silence } from './observed.ts'
import type { CodesOn, Way } from './way.ts'

const siteOf = (on: string): CodesOn => ({ on, conceptMaps: ['bowel-site'], ours: bowelSites })
const parts =
  'Right is from the caecum to the transverse colon, left from the splenic flexure to the rectosigmoid junction; a site that says neither, and an anastomosis, leave the number of every part open.'
const stated = (fact: string): Way =>
  observedIn(['valueInteger', 'valueQuantity', 'valueString'], {
    ours: [fact],
    note: 'A whole number from 0 to 99, without a unit. Fewer than the pots hold is a contradiction.',
  })
const pots = (element: string, note: string): Way => ({
  elements: [element],
  rungs: ['inferred from the findings'],
  codes: [siteOf('Specimen.collection.bodySite')],
  note,
})
const counted = pots(
  'Specimen.collection.quantity',
  `Pieces in the pots that no polyp names, and in which no polyp can lie that was taken without one; where the source declares a complete feed of polyps. ${parts}`,
)
const none = silence(
  'Procedure.partOf',
  '0: the source declares a complete feed of polyps, the report is not preliminary, and nothing tells of biopsies that may be from there.',
)

/** Ways of the number of biopsies of one part of the bowel. */
export const numbered = (fact: string): readonly Way[] => [stated(fact), counted, none]

/** Ways of the fewest that there can have been. */
export const bounded = (fact: string): readonly Way[] => [
  stated(fact),
  counted,
  pots('Specimen.collection.bodySite', 'A pot as above without a quantity holds at least one.'),
  {
    elements: ['Procedure.bodySite'],
    rungs: ['direct reference', 'shared order', 'shared encounter'],
    codes: [{ on: 'Procedure.code', valueSets: ['biopsy'] }, siteOf('Procedure.bodySite')],
    note: 'A biopsy that names no polyp, and of which no pot is told: at least one. It is part of the colonoscopy, or of its order or encounter.',
  },
  none,
]
