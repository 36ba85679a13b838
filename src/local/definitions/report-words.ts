import type { CodeSystem, ValueSet } from 'fhir/r4'
import { absentInWords, apartInWords } from '../../report/apart-in-words.ts'
import { stratumWords } from '../../report/codes.ts'
import { published } from './published.ts'

interface Words {
  readonly id: string
  readonly title: string
  readonly description: string
  readonly words: Readonly<Record<string, string>>
}

const reportWords: readonly Words[] = [
  {
    id: 'apart-reason',
    title: 'Reasons for standing apart',
    description: 'Why examinations stand beside the populations of a report.',
    words: apartInWords,
  },
  {
    id: 'absent-reason',
    title: 'Reasons for an absent score',
    description: 'Why a report gives no score.',
    words: absentInWords,
  },
  {
    id: 'stratum',
    title: 'Stratifiers and strata',
    description:
      'The stratifiers of a report, and the strata of examinations of which what they divide by is not recorded.',
    words: stratumWords,
  },
]

/** The code systems of the reports' own words, each with the value set of all its codes. */
export function reportWordResources(): (CodeSystem | ValueSet)[] {
  return reportWords.flatMap(({ id, title, description, words }) => {
    const valueSet = published('ValueSet', id, title, description)
    const codeSystem: CodeSystem = {
      ...published('CodeSystem', id, title, description),
      caseSensitive: true,
      valueSet: valueSet.url,
      content: 'complete',
      count: Object.keys(words).length,
      concept: Object.entries(words).map(([code, display]) => ({ code, display })),
    }
    return [codeSystem, { ...valueSet, compose: { include: [{ system: codeSystem.url ?? '' }] } }]
  })
}
