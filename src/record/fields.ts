import { accessory } from './accessory.ts'
import { afterwards } from './afterwards.ts'
import { comfortAndSedation } from './comfort-and-sedation.ts'
import { course } from './course.ts'
import type { Field } from './field.ts'
import { findings } from './findings.ts'
import { history } from './history.ts'
import { pathology } from './pathology.ts'
import { preparation } from './preparation.ts'
import { whoWhenWhere } from './who-when-where.ts'
import { why } from './why.ts'

/** The facts of the record by the part of the story they tell, in the order in which a reader meets them. */
export const fieldGroups = {
  'Who, when, where': whoWhenWhere,
  Why: why,
  'History recorded beforehand': history,
  Course: course,
  Preparation: preparation,
  'Comfort and sedation': comfortAndSedation,
  'Distal attachment': accessory,
  'Found and done': findings,
  Pathology: pathology,
  Afterwards: afterwards,
} as const satisfies Record<string, Readonly<Record<string, Field>>>

/**
 * Every fact of the colonoscopy record: its type, its meaning, its unit, what fills it, and which feed makes its
 * absence mean something. The TypeScript type (`colonoscopy.ts`), the published logical model
 * (`measures/StructureDefinition-colonoscopy.json`) and the type check of the criteria are all made from this table, so they cannot
 * drift apart.
 *
 * An absent field always means *not recorded*, never *no*. Rules that keep three-valued logic honest: every list has a
 * scalar count beside it, and a fact over a list ("every segment at least 2") is a scalar made in linkage.
 */
export const fields = {
  ...whoWhenWhere,
  ...why,
  ...history,
  ...course,
  ...preparation,
  ...comfortAndSedation,
  ...accessory,
  ...findings,
  ...pathology,
  ...afterwards,
} as const satisfies Record<string, Field>

export type FieldName = keyof typeof fields
