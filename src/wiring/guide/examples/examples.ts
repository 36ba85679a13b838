import type { Field } from '../../../record/field.ts'
import { fields } from '../../../record/fields.ts'
import { accessory } from './accessory.ts'
import { afterwards } from './afterwards.ts'
import { ofBase } from './base.ts'
import { course } from './course.ts'
import type { Example } from './example.ts'
import { findings } from './findings.ts'
import { history } from './history.ts'
import { localCode } from './local-code.ts'
import { pathology } from './pathology.ts'
import { preparationAndComfort } from './preparation-and-comfort.ts'
import { whoAndWhy } from './who-and-why.ts'

/** Every example, that of the base alone last. */
export const examples: readonly Example[] = [
  ...whoAndWhy,
  ...history,
  ...course,
  ...preparationAndComfort,
  ...accessory,
  ...findings,
  ...pathology,
  ...afterwards,
  localCode,
  ofBase,
]

/** Facts that an example fills, those of the elements of its lists as `polyps.site` among them. */
export function filledBy({ gives }: Example): readonly string[] {
  return Object.entries(gives).flatMap(([name, value]) => {
    const { of }: Field = fields[name as keyof typeof fields]
    if (of === undefined || !Array.isArray(value)) return [name]
    const elements = value as readonly Readonly<Record<string, unknown>>[]
    return [
      name,
      ...Object.keys(of)
        .filter((inner) => elements.some((one) => one[inner] !== undefined))
        .map((inner) => `${name}.${inner}`),
    ]
  })
}

/** The example that shows a fact: the first that fills it. */
export const exampleOf = (field: string): Example | undefined =>
  examples.find((example) => filledBy(example).includes(field))
